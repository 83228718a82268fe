import pytest

from menugen.reading import read_mapping


def data(text: str) -> object:
    found, problems = read_mapping(text, "a.yaml")
    assert problems == []
    return found


def told(text: str) -> list[tuple[str, int, int, int]]:
    _, problems = read_mapping(text, "a.yaml")
    return [(problem.code, *problem.where[1:]) for problem in problems]


def test_every_value_is_the_text_that_was_typed() -> None:
    text = "off: [on, NO, 1e3, 012, 19:30, 2026-12-12, .5, =, '<<', 0x1F, true, 1_000]\n"
    assert data(text) == {
        "off": ["on", "NO", "1e3", "012", "19:30", "2026-12-12", ".5", "=", "<<", "0x1F", "true", "1_000"]
    }


def test_nothing_typed_is_the_empty_text_and_a_quoted_null_is_a_word() -> None:
    assert data("a:\nb: ~\nc: null\nd: ''\ne: 'null'\nf: \"~\"\n") == {
        "a": "",
        "b": "",
        "c": "",
        "d": "",
        "e": "null",
        "f": "~",
    }


def test_block_texts_and_nesting_are_kept() -> None:
    assert data("a: |\n  one\n  two\nb: >\n  one\n  two\nc: {d: [e, {f: g}]}\n") == {
        "a": "one\ntwo\n",
        "b": "one two\n",
        "c": {"d": ["e", {"f": "g"}]},
    }


def test_accents_written_in_two_ways_are_one_key() -> None:
    assert data("cafe\u0301: 1\n") == {"caf\u00e9": "1"}
    assert told("cafe\u0301: 1\ncaf\u00e9: 2\n") == [("repeated-key", 2, 1, 5)]


def test_a_key_written_twice_is_told_with_both_places_and_the_first_is_kept() -> None:
    found, [problem] = read_mapping("a:\n  b: 1\n  c: 2\n  b: 3\n", "a.yaml")
    assert found == {"a": {"b": "1", "c": "2"}}
    assert problem.where == ("a.yaml", 4, 3, 4)
    assert problem.also == ((("a.yaml", 2, 3, 4), "the first one"),)


def test_two_things_run_together_are_one_fault() -> None:
    found, [problem] = read_mapping("gin:\n  abv: 40 %\n  pack: 1\n  abv: 24 %\n  pack: 2\n", "a.yaml")
    assert found == {"gin": {"abv": "40 %", "pack": "1"}}
    assert problem.where == ("a.yaml", 4, 3, 6)
    assert "a name may be missing above it" in problem.hints[1]


def test_the_same_key_in_two_mappings_is_no_repeat() -> None:
    assert data("a: {b: 1}\nc: {b: 2}\n") == {"a": {"b": "1"}, "c": {"b": "2"}}


@pytest.mark.parametrize(
    ("text", "code", "line", "column"),
    [
        ("", "empty-file", 1, 1),
        ("# only a word\n", "empty-file", 1, 1),
        ("---\n", "empty-file", 1, 1),
        ("{}\n", "empty-file", 1, 1),
        ("- a\n", "not-a-mapping", 1, 1),
        ("\n\nGin\n", "not-a-mapping", 3, 1),
        ("a: 1\n---\nb: 2\n", "several-documents", 2, 1),
        ("a: 1\n...\nb: 2\n", "several-documents", 3, 1),
        ("a: &b c\n", "yaml-reference", 1, 4),
        ("a: *b\n", "yaml-reference", 1, 4),
        ("a: !b c\n", "yaml-tag", 1, 4),
        ("! a: c\n", "yaml-tag", 1, 1),
        ("? [a]\n: b\n", "key-not-text", 1, 3),
        ("'': b\n", "key-not-text", 1, 1),
        ("a: [" + "[" * 20 + "]" * 20 + "]\n", "too-deep", 1, 23),
        ("a:\n\t- b\n", "tab-indent", 2, 1),
        ("a:\n  b: 1\n \tc: 2\n", "tab-indent", 3, 2),
        ('a: "\\x1b"\n', "control-character", 1, 4),
        ("a: b: c\n", "yaml-syntax", 1, 5),
        ("a: 'b\nc: d\n", "yaml-syntax", 1, 4),
        ("a: [b,\nc: d\n", "yaml-syntax", 1, 4),
        ("a: 1\nb\nc: 2\n", "yaml-syntax", 2, 1),
        ("a: @b\n", "yaml-syntax", 1, 4),
        ("é😀: 1\nb: %c\n", "yaml-syntax", 2, 4),
    ],
)
def test_what_is_no_plain_yaml_is_told_with_its_place(text: str, code: str, line: int, column: int) -> None:
    [problem, *_] = told(text)
    assert problem[:3] == (code, line, column)


def test_a_part_of_a_text_keeps_its_places() -> None:
    text = "---\na: 1\nb: c: d\n---\nnotes: {\n"
    _, [problem] = read_mapping(text, "a.md", base=4, end=text.index("---\nnotes"))
    assert problem.where == ("a.md", 3, 5, 6)
