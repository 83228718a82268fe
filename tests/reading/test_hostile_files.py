"""Whatever a file holds, a person gets problems in plain words: never a traceback, never a wait."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.reading.held import reading_of, told
from tests.strategies import hostile_text, nearly_yaml


def _bytes(text: str) -> bytes:
    return text.encode("utf-8", errors="surrogatepass")


@pytest.mark.slow
@given(st.one_of(hostile_text(), nearly_yaml()), st.one_of(hostile_text(), nearly_yaml()))
def test_any_text_in_any_file_is_told_of_in_words(one: str, other: str) -> None:
    told(
        {
            "house.yaml": _bytes(one),
            "specs/a.md": _bytes(f"---\n{one}\n---\n{other}"),
            "specs/b.md": _bytes(other),
            "stock/a.yaml": _bytes(other),
            "events/a.yaml": _bytes(one),
        }
    )


@given(st.binary(max_size=200))
def test_any_bytes_in_any_file_are_told_of_in_words(content: bytes) -> None:
    told(dict.fromkeys(("house.yaml", "specs/a.md", "stock/a.yaml", "events/a.yaml"), content))


@pytest.mark.slow
@given(nearly_yaml())
def test_a_fault_in_one_file_keeps_no_other_from_being_read(text: str) -> None:
    sound = "---\nname: Harbour Bell\npour: 50 ml gin\nglass: coupe\n---\n"
    house = reading_of(
        {"specs/sound.md": sound, "specs/other.md": _bytes(text), "stock/a.yaml": _bytes(text)}
    ).house
    assert house is not None
    assert house.specs["sound"].name == "Harbour Bell"


@pytest.mark.slow
@given(st.text(min_size=1, max_size=20).filter(lambda name: "/" not in name))
def test_any_file_name_is_taken_or_told_of(name: str) -> None:
    sound = "---\nname: Harbour Bell\npour: 50 ml gin\nglass: coupe\n---\n"
    reading = reading_of({f"specs/{name}.md": sound})
    told({f"specs/{name}.md": sound})
    assert reading.house is not None
    skipped = name.startswith(".") or name.casefold() == "readme"
    assert len(reading.house.specs) + len(reading.broken_specs) == (0 if skipped else 1)


def test_names_that_expand_without_end_are_refused_at_once() -> None:
    bomb = "a: &a [x, x]\n" + "".join(
        f"{b}: &{b} [{', '.join([f'*{a}'] * 9)}]\n" for a, b in zip("abcdefgh", "bcdefghi", strict=False)
    )
    text = told({"stock/bomb.yaml": bomb})
    assert text.count("error[yaml-reference]") == 20
