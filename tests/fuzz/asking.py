"""What may be typed: every command that was not tried before, with options right and wrong."""

from pathlib import Path
from random import Random

from tests.fuzz.bases import Files
from tests.fuzz.past import TAGS, World
from tests.fuzz.spoiling import hostile_word

REVISIONS = (
    *("HEAD", "HEAD~1", "HEAD^", "HEAD^2", "HEAD~99999", "main", "w0", "@", "@{u}", "@{1}", "main@{yesterday}"),
    *("HEAD^{tree}", ":/began", ":/", "HEAD:specs", "HEAD:house.yaml", "--help", "-n", "--all", "-", ".."),
    *("HEAD..main", "HEAD...main"),
    *("", " ", "2026-06-20", "2026-12-12", "2026-12", "2025", "9999-12-31", "0001-01-01", "2026-02-31", "yesterday"),
    *("2 weeks ago", "now", "noon", "never", "2026-12-12T19:00", "2026-12-12 19:00 +0100", "1765566000", "@1765566000"),
    *("7f3a2c1", "7f3a2c1+4be09d2", "+4be09d2", "0000000", "f" * 40, "f" * 64, "a" * 9999),
    *("\x1b[31m", "ä", "\udce4"),
    *("HEAD\n", "refs/heads/main", "refs/tags/v1", "HEAD@{0}", "HEAD^!", "HEAD^@", "^HEAD", "stash", *TAGS),
    *("FETCH_HEAD",),
    *("99999999999999999999", "12/12/2026", "12.12.2026", "last friday", "2026-W50", "2026-366", "١٢", "tea", "0"),
    *("v1^{}", "HEAD^{/began}", "HEAD^{blob}", "HEAD~" + "9" * 30, "HEAD" + "^" * 300, "@{" + "9" * 30 + "}", "@{-1}"),
)  # fmt: skip
PLACES = (
    "",
    ".",
    "..",
    "nowhere",
    "new",
    "new/deep",
    "house",
    "house/site",
    "house/out",
    "house/specs",
    "house/.git",
    "-",
    "ä b",
)
LINES = (
    "lemon juice=20 ml",
    "gin=none",
    "gin=",
    "=",
    "gin",
    "egg white=20 ml aquafaba",
    "gin=ferry gin",
    "gin=1/0 ml",
    "sugar syrup=9999 l",
    "gin=nan ml",
    "gin=-5 ml",
    "gin=2 oz=3",
    "soda water=100 ml",
    "lemon twist=none",
    "white wine=0 ml",
)
AIMS = (
    "abv=12 %",
    "sweetness=as before",
    "acid=1",
    "balance=3",
    "volume=100 ml",
    "units=1",
    "abv=",
    "abv=0 %",
    "abv=100 %",
    "abv=nan",
    "sweetness=1e999",
    "x=1",
    "volume=as before",
    "abv=-1 %",
    "balance=0",
    "balance=inf",
    "units=as before",
)
STEPS = ("5 ml", "0 ml", "-1 ml", "1e-9 ml", "nan ml", "1/4 oz", "9999 l", "x", "", "1 dash")
WHEN = ("2026-12-12", "2026-12", "2026-12-13", "2027-01-09", "2027-01", "2026")


def _names(files: Files, ending: str, *folders: str) -> list[str]:
    found = [path.rpartition("/")[2].removesuffix(ending) for path in files if path.startswith(folders)]
    return sorted(found) or ["x"]


class Asking:
    """Chances to type a command, about one house."""

    def __init__(self, world: World, chance: Random) -> None:
        self._chance = chance
        self._specs = _names(world.files, ".md", "specs/", "more/")
        self._events = _names(world.files, ".yaml", "events/")
        self._past = bool(world.commits)
        self._house = str(Path("house", world.inside)) if world.inside else "house"
        self._tags = tuple(world.tags)

    def _maybe(self, share: float, *words: str) -> list[str]:
        return list(words) if self._chance.random() < share else []

    def _word(self, *good: str) -> str:
        """Return a good word, mostly, and else one that nobody should type."""
        return (
            self._chance.choice(good) if self._chance.random() < 0.95 else hostile_word(self._chance)[:2000]
        )

    def _revision(self) -> str:
        if self._chance.random() < 0.6:
            return self._chance.choice(("HEAD", "HEAD~1", "HEAD~2", "main", *self._tags))
        return self._chance.choice(REVISIONS)

    def _spec(self) -> str:
        slug = self._chance.choice(self._specs)
        return self._word(*([slug] * 9), f"{self._house}/specs/{slug}.md", f"{slug}.md", slug.title(), "")

    def _event(self) -> str:
        slug = self._chance.choice(self._events)
        return self._word(*([slug] * 9), f"{self._house}/events/{slug}.yaml", slug.title(), "")

    def _where(self) -> str:
        event = self._chance.choice(self._events)
        return self._word(
            *([self._house] * 6),
            f"{self._house}/events/{event}.yaml",
            f"{self._house}/house.yaml",
            f"{self._house}/specs",
        )

    def _at(self, share: float = 0.2) -> list[str]:
        return self._maybe(share if self._past else 0.05, f"--at={self._revision()}")

    def check(self) -> list[str]:
        options = self._maybe(0.3, "--json") + self._maybe(0.2, "--strict") + self._maybe(0.1, "--quiet")
        return ["check", *options, *self._at(), "--", self._where()]

    def publish(self) -> list[str]:
        options = self._maybe(0.3, "--json") + self._maybe(0.1, "--quiet") + self._maybe(0.3, "--remove-gone")
        options += self._maybe(
            0.3, f"--fail-on={self._word(*(['allergens'] * 5), 'allergens,allergens', '', 'strength')}"
        )
        options += self._maybe(0.2, f"--to={self._word(*PLACES)}") + self._maybe(
            0.1, f"--was={self._word('The Tin Ferry', '')}"
        )
        return ["publish", *options, *self._at(), "--", self._where()]

    def drink(self) -> list[str]:
        options = self._maybe(0.3, "--json") + self._maybe(0.3, "--working") + self._maybe(0.1, "--quiet")
        options += self._maybe(0.3, f"--event={self._event()}") + self._at(0.1)
        for _ in range(self._chance.choice((0, 0, 1, 2))):
            options.append(f"--set={self._word(*LINES)}")
        for _ in range(self._chance.choice((0, 0, 0, 1, 2))):
            options.append(f"--aim={self._word(*AIMS)}")
        for _ in range(
            self._chance.choice((0, 0, 1, 2)) if any(word.startswith("--aim") for word in options) else 0
        ):
            options.append(
                f"--by={self._word('gin', 'sugar syrup', 'lemon juice', 'egg white', 'soda water')}"
            )
        options += self._maybe(
            0.3 if any(word.startswith("--aim") for word in options) else 0.02, f"--step={self._word(*STEPS)}"
        )
        return ["drink", *options, f"--house={self._house}", "--", self._spec()]

    def history(self) -> list[str]:
        options = self._maybe(0.3, "--json") + self._maybe(0.1, "--quiet") + self._maybe(0.03, "--working")
        options += self._maybe(0.3, f"--event={self._event()}") + self._at()
        options += self._maybe(0.25, f"--to={self._word(*PLACES)}")
        return ["drink", "--history", *options, f"--house={self._house}", "--", self._spec()]

    def compare(self) -> list[str]:
        options = self._chance.choice(
            ([], [], ["--json"], ["--markdown"], ["--json", "--markdown"])
        ) + self._maybe(0.1, "--quiet")
        options += self._maybe(
            0.3,
            f"--fail-on={self._word('allergens', 'strength', 'problems', 'allergens,strength,problems', ',', '')}",
        )
        revisions = [self._revision() for _ in range(self._chance.choice((0, 1, 1, 2, 2, 2)))]
        return ["compare", *options, f"--house={self._house}", "--", *revisions]

    def served(self) -> list[str]:
        options = self._maybe(0.3, "--json") + self._maybe(0.2, f"--event={self._event()}")
        when = self._chance.choice(WHEN) if self._chance.random() < 0.6 else self._revision()
        return ["served", *options, f"--house={self._house}", "--", when]

    def tidy(self) -> list[str]:
        options = self._maybe(0.2, "--check") + self._maybe(0.1, "--quiet")
        options += self._at(0.3 if "--check" in options else 0.02)
        where = [
            self._word(
                *([self._house] * 4),
                f"{self._house}/specs",
                f"{self._house}/stock",
                f"{self._house}/specs/{self._chance.choice(self._specs)}.md",
            )
            for _ in range(self._chance.choice((1, 1, 1, 3)))
        ]
        return ["tidy", *options, "--", *where]

    def schema(self) -> list[str]:
        kind = self._maybe(0.5, self._chance.choice(("house", "spec", "stock", "event", "theme", "x", "")))
        return [
            "schema",
            *self._maybe(0.6, f"--to={self._word(*PLACES)}"),
            *self._maybe(0.1, "--quiet"),
            "--",
            *kind,
        ]

    def start(self) -> list[str]:
        return ["start", *self._maybe(0.1, "--quiet"), "--", self._word(*PLACES)]

    def completion(self) -> list[str]:
        return ["completion", self._chance.choice(("bash", "zsh", "tcsh", "bash", "zsh", "tcsh", "fish", ""))]

    def together(self) -> list[str]:
        """Return what is run together: what the preview makes, without its server, or a publish and another."""
        if self._chance.random() < 0.5:
            return ["(publish twice)"]
        return ["(preview)", *self._maybe(0.3, self._chance.choice(self._events))]

    def with_itself(self) -> list[str]:
        """Return a comparison of one commit with itself."""
        return ["(compare with itself)"]

    def anything(self) -> list[str]:
        """Return a command whose own words may be missing, strange, or given twice."""
        command = self.any_of_past() if self._past else self.any_of_files()
        if command[0].startswith("("):
            return command
        for _ in range(self._chance.choice((1, 2))):
            at = self._chance.randrange(len(command) + 1)
            match self._chance.randrange(3):
                case 0:
                    command.insert(at, hostile_word(self._chance)[:2000])
                case 1 if at < len(command) and len(command) > 1:
                    del command[at]
                case _:
                    command.insert(
                        at,
                        self._chance.choice(
                            ("--json", "--at", "--to", "--help", "--version", "--quiet", "--", "-h")
                        ),
                    )
        # A preview would serve until it is stopped.
        return [word for word in command if word != "preview"] or ["--version"]

    def any_of_files(self) -> list[str]:
        """Return one of the commands that look at the files as they lie."""
        many = [self.check, self.check, self.drink, self.drink, self.drink, self.tidy, self.tidy, self.tidy]
        return self._chance.choice(
            (*many, self.publish, self.publish, self.start, self.schema, self.completion, self.together)
        )()

    def any_of_past(self) -> list[str]:
        """Return one of the commands that ask git."""
        many = [*([self.compare] * 3), self.served, self.served, self.history, self.history]
        return self._chance.choice(
            (*many, self.check, self.tidy, self.drink, self.publish, self.with_itself)
        )()

    def one(self) -> list[str]:
        """Return any command."""
        if self._chance.random() < 0.05:
            return self.anything()
        return self.any_of_past() if self._past and self._chance.random() < 0.8 else self.any_of_files()
