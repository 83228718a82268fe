"""What changed of a house's own looks is said in one line each, and stops nothing."""

from pathlib import Path

import pytest

from menugen.comparing import compare, houses_to_compare, told_otherwise
from menugen.comparing.look_changes import look_changes, looks_of
from menugen.reading import DiskFiles
from tests.houses import texts
from tests.revisions.repositories import git

FAULTY = "theme.yaml changed; a fault in it keeps it from being compared"
LAWN = 'extends: slate\ncolours: {light: {ground: "#ffffff"}}\n'


def look(tokens: str | None, **more: str) -> dict[str, dict[str, bytes]]:
    files = {"theme.yaml": tokens, "style.css": more.get("style"), "marks.jinja": more.get("marks")}
    return {"lawn": {file: text.encode() for file, text in files.items() if text is not None}}


def told(old: str | None, new: str | None) -> list[str]:
    return list(look_changes(look(old), look(new)))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (LAWN, LAWN.replace("ffffff", "EEEEEE"), "colours light ground #ffffff -> #eeeeee"),
        (LAWN, "extends: slate\n", "colours light ground #ffffff -> not said"),
        (LAWN, LAWN.replace("slate", "bunting"), "extends slate -> bunting"),
        (LAWN, "colours: [\n", FAULTY),
        (
            LAWN,
            LAWN.replace("#ffffff", "white"),
            FAULTY,
        ),
        (LAWN, None, "theme.yaml gone"),
    ],
)
def test_what_a_look_says_differently_is_said_in_one_line(old: str, new: str | None, said: str) -> None:
    assert told(old, new) == [f"the look lawn: {said}"]


def test_words_and_spacing_of_a_look_are_no_change() -> None:
    assert told(LAWN, f"title: Lawn\nabout: Green.\n{LAWN.replace('{light', '{ light')}") == []


def test_its_other_files_are_named_behind_its_tokens() -> None:
    found = look_changes(look(LAWN, style="a{}"), look(LAWN.replace("fff", "eee", 1), style="b{}", marks="x"))
    assert list(found) == [
        "the look lawn: colours light ground #ffffff -> #eeefff; marks.jinja new; style.css changed"
    ]


def test_of_many_differences_as_many_are_said_as_can_be_read() -> None:
    names = ("ground", "text", "strong", "quiet", "link", "rule", "focus", "control", "band", "on band")
    old, new = (
        "colours:\n  light:\n" + "".join(f'    {name}: "{colour}"\n' for name in names)
        for colour in ("#000000", "#111111")
    )
    [line] = told(old, new)
    assert line.endswith("colours light control #000000 -> #111111; 2 more")


def test_looks_that_come_and_go_are_named() -> None:
    assert list(look_changes({"a": {}}, {"b": {}})) == ["the look a: gone", "the look b: new"]


def test_no_link_of_a_look_is_followed(tmp_path: Path) -> None:
    home = tmp_path / "themes" / "lawn"
    home.mkdir(parents=True)
    (home / "theme.yaml").write_text(LAWN, encoding="utf-8")
    (home / "style.css").symlink_to("/etc/hostname")
    (tmp_path / "themes" / "linked").symlink_to(home)
    assert looks_of(DiskFiles(tmp_path)) == {"lawn": {"theme.yaml": LAWN.encode()}}
    assert looks_of(DiskFiles(tmp_path / "nowhere")) == {}


def test_a_look_that_changed_in_git_is_told_of_the_house_and_is_no_alarm(tmp_path: Path) -> None:
    for name, text in {**texts(), "themes/lawn/theme.yaml": LAWN}.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    git(tmp_path, "init", "-q")
    git(tmp_path, "add", "-A")
    git(tmp_path, "commit", "-q", "-m", "A look")
    (tmp_path / "themes/lawn/theme.yaml").write_text(LAWN.replace("ffffff", "eeeeee"), encoding="utf-8")
    found = houses_to_compare(tmp_path, "HEAD", progress=lambda *_: None)
    comparison = compare(found.old, found.new)
    assert [change.after for change in comparison.changes] == [
        "the look lawn: colours light ground #ffffff -> #eeeeee"
    ]
    assert told_otherwise(comparison.changes) == ()


def test_a_licence_that_moved_is_no_change_and_a_stand_in_is() -> None:
    old = "fonts: [{family: Lawn, file: a.otf, licence: a.txt, stand in: {Georgia: 85 %}}]\n"
    assert told(old, old.replace("a.txt", "b.txt")) == []
    assert told(old, old.replace("85", "86")) == [
        "the look lawn: fonts Lawn 400 from a.otf (Georgia 85 %) -> Lawn 400 from a.otf (Georgia 86 %)"
    ]
