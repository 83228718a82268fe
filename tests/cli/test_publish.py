"""A publish is never silent about what it replaces, and leaves nothing of an event that is gone without a word."""

import json
from pathlib import Path

import pytest

from menugen.cli import main
from menugen.preview.pages import dressed, make_pages
from menugen.problems.sections import WIDTH
from tests.cli.test_commands import write_house
from tests.history.repositories import Books, git

STOCK, SPEC, EVENT = "stock/all.yaml", "specs/marsh-sour.md", "events/small-supper.yaml"


class Bar:
    """A house in a folder called "bar", and what its last command printed."""

    def __init__(self, capsys) -> None:
        self.capsys = capsys
        self.out = self.err = ""

    def edit(self, path: str, old: str, new: str) -> None:
        file = Path("bar", path)
        text = file.read_text("utf-8")
        assert old in text
        file.write_text(text.replace(old, new), encoding="utf-8", newline="\n")

    def publish(self, *more: str, where: str = "bar") -> int:
        code = main(["publish", where, *more])
        self.out, self.err = self.capsys.readouterr()
        return code

    def told(self) -> str:
        return " ".join(self.out.replace("!!", "").split())


@pytest.fixture
def bar(tmp_path, monkeypatch, capsys) -> Bar:
    monkeypatch.chdir(tmp_path)
    write_house(Path("bar"))
    return Bar(capsys)


def whole(folder: str) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in Path(folder).rglob("*") if path.is_file()}


def test_every_label_changed_to_walnut_is_the_first_thing_said(bar):
    assert bar.publish() == 0
    assert "no earlier output in bar/out/small-supper, so there is nothing to compare with" in bar.told()
    assert bar.publish() == 0
    assert bar.out.startswith("no allergen or caution gained or lost against what was published before\n")
    bar.edit(STOCK, "contains: none", "contains: [walnut]")
    assert bar.publish() == 0
    lines = bar.out.splitlines()
    assert lines[:2] == ["!! ALLERGENS GAINED in 1 drink", "!!   CONTAINS walnuts: 1 drink"]
    assert lines[2] == "!!     Marsh Sour"
    assert lines[-1].endswith("; allergens or cautions changed, above")
    assert all(len(line) <= WIDTH for line in lines[:-1])


def test_fail_on_allergens_publishes_nothing_and_says_what_it_would_have(bar):
    bar.publish()
    before = whole("bar/out")
    bar.edit(STOCK, "contains: none", "contains: [walnut]")
    for _ in range(2):
        assert bar.publish("--fail-on", "allergens") == 1
        assert "ALLERGENS GAINED" in bar.out
        assert "nothing was published" in bar.err
        assert whole("bar/out") == before
    assert bar.publish() == 0
    assert bar.publish("--fail-on", "allergens") == 0


@pytest.mark.parametrize(
    ("path", "old", "new", "expected"),
    [
        (STOCK, "contains: [egg]", "contains: none", "NOT DECLARED eggs, contains before"),
        (STOCK, "cautions: [raw egg]", "cautions: none", "Cautions no longer shown in 1 drink raw egg"),
        (STOCK, "may contain: [lupin]", "may contain: [lupin, soya]", "MAY CONTAIN"),
        (SPEC, "  egg white: 20 ml aquafaba\n", "", "Choices gone in 1 drink"),
        (SPEC, "name: Marsh Sour", "name: Reed Sour", "renamed: Marsh Sour -> Reed Sour"),
        (EVENT, "region: GB-ENG", "region: IE", ""),
    ],
)
def test_whatever_caused_it(bar, path, old, new, expected):
    if path == STOCK and "none" in new and "cautions" in new:
        pass
    bar.publish()
    text = Path("bar", path).read_text("utf-8")
    if old not in text:
        pytest.skip(f"the test house has no {old!r}")
    bar.edit(path, old, new)
    bar.publish()
    assert expected in bar.told(), bar.out + bar.err
