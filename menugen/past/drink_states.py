"""What one drink was made from at each commit: the spec, the stock and the settings, followed back through renames."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from menugen.comparing import renamed
from menugen.names import name_key
from menugen.past.part_of_house import (
    EVENT_ENDINGS,
    SPEC_ENDINGS,
    KnownFolders,
    PartOfHouse,
    oid_of,
    spec_slugs,
)
from menugen.reading import HOUSE_FILE, HouseFiles, read_house
from menugen.records import Spec
from menugen.revisions import Commit, GitFiles, Objects, Repository, commits

MOST_BROUGHT = 200
"""Commits of one merged branch that are looked at, at most."""


@dataclass(frozen=True, slots=True)
class DrinkState:
    """What a drink was made from at one time.

    Attributes:
        commit: What made it so; None is what is not committed yet.
        files: The house then.
        slug: What the drink was called then.
        key: The same for the same content; empty for the files as they lie, which are like nothing else.
        there: Whether there was such a drink.
        becomes: Where it went away: the spec as which it goes on; None where it does not.
    """

    commit: Commit | None
    files: HouseFiles
    slug: str
    key: tuple[str, ...]
    there: bool = True
    becomes: Spec | None = None


class DrinkWalk:
    """One drink, looked for at one revision after another."""

    def __init__(self, repository: Repository, event: str | None) -> None:
        """Remember where to look; nothing is read yet.

        Args:
            repository: Where the house lies.
            event: The event whose bottles count; None is none.
        """
        self._repository = repository
        self._objects = Objects(repository.top)
        self._event = event
        self._known = KnownFolders()
        self.event_seen = False

    def states(
        self, listed: Sequence[Commit], slug: str, working_files: HouseFiles | None
    ) -> Iterator[DrinkState]:
        """Yield what the drink was made from, the newest first, each with the commit that made it so.

        Where the drink went away, and was there before that, a state says so. Where it came back under its first file,
        and was there under another one in between, it is followed through that, too.

        Args:
            listed: The commits, the newest first, each the parent of the one before it.
            slug: What the drink is called at the newest.
            working_files: What is not committed yet counts as the newest; None leaves it out.
        """
        held: DrinkState | None = None
        absent: DrinkState | None = None
        away = 0
        back: HouseFiles | None = None  # where it is missing first, and the house in which it is there again
        if working_files is not None:
            there = slug in spec_slugs(working_files)
            state = DrinkState(None, working_files, slug, (), there=there)
            held, absent = (state, None) if there else (None, state)
        for place, commit in enumerate(listed):
            files = GitFiles(self._repository, commit, self._objects)
            found = self._state(files, slug)
            if found is None and held is not None and (before := old_name(files, held)):
                slug, found = before, self._state(files, before)
            if found is None:
                if held is not None:
                    yield held
                    away, back = place, held.files
                held, absent = None, DrinkState(commit, files, slug, (), there=False)
                continue
            if absent is not None:
                becomes = continues_as(found, absent.files)
                if becomes and back is not None and becomes.slug not in spec_slugs(back):
                    between = listed[max(0, away - 1) : place]
                    yield from self.states(between, becomes.slug, None if away else working_files)
                else:
                    yield replace(absent, slug=slug, becomes=becomes)
                absent = None
            elif held is not None and found.key != held.key:
                yield held
            held = found
        if held is not None:
            yield held

    def brought(self, merge: Commit, slug: str) -> tuple[Commit, ...]:
        """Return the commits a merge brought that changed what a drink is made from, the oldest first."""
        whole = f"{merge.revision}^1..{merge.revision}"
        found = commits(self._repository.top, "--no-merges", f"-{MOST_BROUGHT}", whole)
        return tuple(reversed([commit for commit in found if self._bears_on(commit, slug)]))

    def _bears_on(self, commit: Commit, slug: str) -> bool:
        # The parent is asked for as git writes it: its own hash is not known here.
        both = commit, replace(commit, revision=f"{commit.revision}^")
        states = [self._state(GitFiles(self._repository, one, self._objects), slug) for one in both]
        return (states[0] and states[0].key) != (states[1] and states[1].key)

    def _state(self, files: GitFiles, slug: str) -> DrinkState | None:
        folders = self._known.of(files)
        specs = self._known.oids(files, folders.specs, slug, SPEC_ENDINGS)
        menus = self._known.oids(files, folders.events, self._event, EVENT_ENDINGS) if self._event else []
        self.event_seen = self.event_seen or bool(menus)
        if not specs:
            return None
        key = (slug, oid_of(files, HOUSE_FILE), *specs, "", *self._known.stock(files), "", *menus)
        return DrinkState(files.commit, files, slug, key)


def old_name(files: HouseFiles, later: DrinkState) -> str:
    """Return what a drink was called in a house, where the next one has it under its later name; else empty."""
    gone = sorted(spec_slugs(files) - spec_slugs(later.files))
    now = _spec(later.files, later.slug)
    found = _same_drink(now, _specs(files, gone)) if now else None
    return found.slug if found else ""


def continues_as(earlier: DrinkState, files: HouseFiles) -> Spec | None:
    """Return the spec as which a drink that is gone from a house goes on there; None for none."""
    added = sorted(spec_slugs(files) - spec_slugs(earlier.files))
    then = _spec(earlier.files, earlier.slug)
    return _same_drink(then, _specs(files, added)) if then else None


def _same_drink(one: Spec, others: Mapping[str, Spec]) -> Spec | None:
    """Return the spec of the same name, else the one that pours much the same; None where there is neither."""
    namesake = (other for other in others.values() if name_key(other.name) == name_key(one.name))
    alike = renamed({one.slug: one}, others).get(one.slug, "")
    return next(namesake, others.get(alike))


def _spec(files: HouseFiles, slug: str) -> Spec | None:
    house = read_house(PartOfHouse(files, (slug,), ())).house
    return house.specs.get(slug) if house else None


def _specs(files: HouseFiles, slugs: Sequence[str]) -> dict[str, Spec]:
    found = ((slug, _spec(files, slug)) for slug in slugs)
    return {slug: spec for slug, spec in found if spec is not None}
