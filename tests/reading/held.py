"""A house's files held as bytes, so that a test can say anything a disk can hold."""

from collections.abc import Mapping
from dataclasses import dataclass

from menugen.problems import draw_json, draw_text
from menugen.reading import HouseReading, read_house

HOUSE = "name: The Lantern Cart\n"


@dataclass(frozen=True)
class HeldFiles:
    """A house's files, by path."""

    contents: Mapping[str, bytes]

    def names(self, folder: str) -> tuple[str, ...]:
        found = (path.rpartition("/") for path in self.contents)
        return tuple(sorted(name for place, _, name in found if place == folder))

    def read(self, path: str) -> bytes:
        if path not in self.contents:
            raise FileNotFoundError(path)
        return self.contents[path]


def reading_of(files: Mapping[str, str | bytes]) -> HouseReading:
    """Read a house of these files; house.yaml is there unless the test says what it holds."""
    contents = {path: text.encode() if isinstance(text, str) else text for path, text in files.items()}
    return read_house(HeldFiles({"house.yaml": HOUSE.encode(), **contents}))


def told(files: Mapping[str, str | bytes]) -> str:
    """Return what the user is told of a house."""
    reading = reading_of(files)
    draw_json(reading.problems, reading.sources, prefix="").encode()
    return draw_text(reading.problems, reading.sources, prefix="", colour=False)


def codes(files: Mapping[str, str | bytes]) -> list[str]:
    """Return the codes of a house's problems, sorted."""
    return sorted(problem.code for problem in reading_of(files).problems)
