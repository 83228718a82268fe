"""menugen compare."""

import argparse
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from menugen.cli.compare_json import compare_json
from menugen.cli.compare_text import compare_markdown, compare_text
from menugen.cli.finding import NotFound, Target, find_target
from menugen.cli.guards import WrongGuard, guards
from menugen.cli.terminal import Progress, fail, print_report, tell_problems, wants_colour
from menugen.comparing import (
    ComparedHouse,
    Comparison,
    NewHouse,
    TwoHouses,
    compare,
    houses_to_compare,
    told_otherwise,
    with_all_errors,
)
from menugen.problems import Severity, visible
from menugen.publishing import CheckedHouse, check_house, with_page_problems
from menugen.reading import HOUSE_FILE, THEMES_FOLDER, HouseFolders
from menugen.report import Note, Report
from menugen.revisions import GitFiles, NoHistory, find_commit, find_repository, quoted, themes_of
from menugen.tidying import TidyResult, files_of_house, tidy_result

GUARDED = ("allergens", "strength", "problems", "tidy")


@dataclass(frozen=True, slots=True)
class _Looked:
    """All that was looked at.

    Attributes:
        comparison: What changed.
        houses: What was compared; None where the house is new.
        checked: What is wrong with the newer house; None where nobody asked, or it could not be looked at.
        untidy: Its files that are not tidy, or could not be looked at.
        lost: Why not all could be looked at; None where it could.
    """

    comparison: Comparison
    houses: TwoHouses | None
    checked: CheckedHouse | None
    untidy: tuple[TidyResult, ...]
    lost: NoHistory | None

    @property
    def conflicts(self) -> tuple[str, ...]:
        """The files that stop a merge."""
        return self.houses.conflicts if self.houses is not None else ()


def run(args: argparse.Namespace) -> int:
    """Tell what changed from one house to another; exit with 1 where something guarded against did."""
    progress = Progress(quiet=args.quiet or args.json or args.markdown)
    try:
        guarded = guards(args.fail_on, GUARDED)
        target, words = _asked(args)
        looked = _looked(args, target, words, guarded, progress)
    except NoHistory as fault:
        return _failed(fault)
    except (NotFound, WrongGuard) as fault:
        return fail(str(fault))
    finally:
        progress.clear()
    # A house that could not be read may be mended in a commit whose hook guards against nothing that is compared.
    unread = not looked.comparison.readable and (not guarded or bool(guarded & {"allergens", "strength"}))
    _print(args, target, looked, quiet=args.quiet and not unread)
    touched = any(_is_touched(guard, looked.comparison) for guard in guarded)
    faulty = looked.checked is not None and looked.checked.stopped
    for line in _to_do(args, target, words, looked, faulty=faulty, touched=touched):
        print(visible(line), file=sys.stderr)
    if looked.lost is not None:
        return _failed(looked.lost)
    if unread:
        return 2
    return 1 if faulty or touched or looked.untidy or looked.conflicts else 0


def _failed(fault: NoHistory) -> int:
    """Say why it could not be looked at, and what to run."""
    code = fail(f"{fault}; run:" if fault.to_run else str(fault))
    for line in fault.to_run:
        print(f"  {visible(line)}", file=sys.stderr)
    return code


def _asked(args: argparse.Namespace) -> tuple[Target, list[str]]:
    """Return the house, and the revisions that were typed.

    Raises:
        NotFound: There is no such house, or the words do not go together.
    """
    words = [word for word in (args.house_or_old, args.old, args.new) if word is not None]
    typed = args.house
    if typed is None and words and _is_house(words[0]):
        typed = words.pop(0)
        if (
            "/" not in typed
            and "\\" not in typed
            and typed != "."
            and _is_revision(find_target(typed).folder, typed)
        ):
            raise NotFound(
                f'"{typed}" is a house here, and a revision of it: write ./{typed} for the house, or '
                f'"--house DIR {typed}" for the revision'
            )
    target = find_target(typed or ".")
    most = 0 if args.staged and args.merged else 1 if args.staged or args.merged else 2
    if args.staged and args.merged:
        raise NotFound("--staged and --merged each say what the newer house is: write one of them")
    if len(words) > most:
        newer = {0: "", 1: "and what it is compared with is said already", 2: "an older one and a newer one"}
        raise NotFound(f'"{words[most]}" is one revision too many: {newer[most]}')
    if args.merged and not words:
        raise NotFound(
            "--merged needs what the change goes into: menugen compare origin/main --merged " + args.merged
        )
    if len(words) == 1 and ".." in words[0] and most == 2:
        # What git calls HEAD~3..HEAD; an end left out is the last commit.
        old, _, new = words[0].partition("..")
        words = [old or "HEAD", new or "HEAD"]
    return target, words


def _is_house(word: str) -> bool:
    try:
        path = Path(word)
        return (path / "house.yaml").is_file() or (path.suffix in (".yaml", ".yml") and path.is_file())
    except (OSError, ValueError):
        return False


def _is_revision(house: Path, word: str) -> bool:
    try:
        find_commit(find_repository(house), word)
    except NoHistory:
        return False
    return True


def _looked(
    args: argparse.Namespace, target: Target, words: list[str], guarded: frozenset[str], progress: Progress
) -> _Looked:
    houses: TwoHouses | None = None
    before: GitFiles | None = None
    files: HouseFolders
    try:
        houses = houses_to_compare(
            target.folder,
            *(words or ["HEAD"]),
            was=args.was_in,
            staged=args.staged,
            merging=args.merged,
            progress=progress,
        )
        files, comparison = houses.files, compare(houses.old, houses.new, houses.notes)
        before = houses.before
    except NewHouse as fault:
        note = f"the house is new: {fault}, so there is nothing to compare it with"
        sides = [ComparedHouse(label, "", ()) for label in (fault.old, fault.new)]
        files, comparison = fault.files, Comparison(sides[0], sides[1], (), (note,))
    except NoHistory as fault:
        if (
            args.house is None
            and words
            and Path(words[0]).is_dir()
            and not _is_revision(target.folder, words[0])
        ):
            find_target(words[0])  # says that it is no house
        raise fault from None
    checked: CheckedHouse | None = None
    untidy: tuple[TidyResult, ...] = ()
    lost: NoHistory | None = None
    try:
        if "problems" in guarded:
            with themes_of(target.folder, files) as looks:
                # What stops a publish only once its pages are made stops it, too.
                checked = check_house(target.folder, files, looks=looks)
                if not args.staged or before is None or _has_other_looks(before, files):
                    checked = with_page_problems(checked, progress)
        if "tidy" in guarded:
            untidy = tuple(_untidy(files, before if args.staged else None))
    except NoHistory as fault:
        lost = fault
    if checked is not None:
        comparison = with_all_errors(comparison, checked.reading, checked.problems)
    return _Looked(comparison, houses, checked, untidy, lost)


def _has_other_looks(before: GitFiles, files: HouseFolders) -> bool:
    """Return whether pages may be broken that were sound: before each commit they are not all set for less."""
    looks = (HOUSE_FILE, THEMES_FOLDER, "photos")
    return not isinstance(files, GitFiles) or any(before.oid(one) != files.oid(one) for one in looks)


def _untidy(files: HouseFolders, before: GitFiles | None) -> Iterator[TidyResult]:
    """Yield the files that are not tidy; where an older house is given, only those that are not as they were there."""
    try:
        for file, kind in files_of_house(files):
            if before is not None and isinstance(files, GitFiles) and files.oid(file) == before.oid(file):
                continue
            looked = tidy_result(files, file, kind)
            if looked.tidied is not None or looked.left_alone:
                yield looked
    except OSError as fault:
        why = fault.strerror or "there is no such file"
        yield TidyResult(str(fault.filename or fault), None, b"", why)


def _print(args: argparse.Namespace, target: Target, looked: _Looked, *, quiet: bool) -> None:
    """Print what changed, then what is wrong; the gravest comes first."""
    comparison, checked = looked.comparison, looked.checked
    drawn = checked is not None and (args.staged or args.merged) and not (args.json or args.markdown)
    if drawn:
        # Below they are drawn with the user's own lines, and the same thing is told once.
        new = comparison.new
        old = replace(
            comparison.old, errors=tuple(one for one in comparison.old.errors if one not in new.errors)
        )
        comparison = replace(comparison, old=old, new=replace(new, errors=()))
    if args.json:
        print(compare_json(comparison))
    elif args.markdown:
        print(compare_markdown(comparison))
    elif looked.houses is None:
        if not quiet:
            note = comparison.notes[0]
            print_report(Report(lead=(Note(f"{note[:1].upper()}{note[1:]}."),)))
    elif not (quiet and not comparison.changes):
        print(compare_text(comparison, bold=wants_colour(sys.stdout)))
    sys.stdout.flush()
    if drawn and checked is not None:
        errors = [problem for problem in checked.problems if problem.severity is Severity.ERROR]
        sources = checked.reading.sources
        tell_problems(errors, sources, target.typed, as_json=False, after="", quiet=True)
    told = {problem.where.file for problem in checked.problems} if checked is not None else set()
    for one in looked.untidy:
        if one.left_alone and one.file in told:
            continue
        what = f"left as it is: {one.left_alone}" if one.left_alone else "not tidy"
        print(visible(f"{target.typed}{one.file}: {what}"), file=sys.stderr)


def _is_touched(guard: str, comparison: Comparison) -> bool:
    """Return whether what is guarded against happened, or may have in a drink that nobody can compare."""
    if guard == "allergens":
        return bool(told_otherwise(comparison.changes))
    changes = [one for changes in comparison.drinks.values() for one in changes]
    return guard == "strength" and (
        any(one.kind == "unknown" for one in comparison.changes)
        or any(one.called == "strength" for one in changes)
    )


def _to_do(
    args: argparse.Namespace,
    target: Target,
    words: list[str],
    looked: _Looked,
    *,
    faulty: bool,
    touched: bool,
) -> Iterator[str]:
    """Yield what to type next, where a hook or a git host asked."""
    if not (args.staged or args.merged):
        return
    house = quoted(target.folder.resolve() if args.merged else target.folder)
    into = quoted(words[0]) if words else ""
    if looked.conflicts:
        named = ", ".join(looked.conflicts)
        yield f"menugen: {args.merged} cannot be merged into {words[0]} as it is, for both change: {named}; run:"
        yield f"  git -C {house} merge {into}"
    if faulty or looked.untidy:
        yield "menugen: put right the files named above; then run:"
        if looked.houses is not None and looked.houses.behind and not looked.conflicts:
            yield f"  git -C {house} merge {into}     # what is wrong may come of both together"
        if faulty:
            yield f"  menugen check {house}"
        if looked.untidy:
            yield f"  menugen tidy {house}"
        yield f"  git add -u {house}" if args.staged else f"  git -C {house} commit -a"
    if touched and args.merged:
        yield "menugen: what changed for guests is named above: read it with the labels beside you; to see it again:"
        yield f"  menugen compare {house} {into} --merged {quoted(args.merged)}"
        if not (faulty or looked.untidy or looked.conflicts):
            yield "menugen: if that is intended, merge by hand: there is nothing to put right"
