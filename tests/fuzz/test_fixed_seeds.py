"""A small, fast part of the fuzz: cases that are always the same. `python -m tests.fuzz.commands` runs for longer."""

import functools

import pytest

from menugen.cli import arguments, main
from tests.fuzz.bases import bases
from tests.fuzz.cases import plan_of, run_case, run_command
from tests.fuzz.texts import spoilt, wrong_of

SEEDS = (*range(4, 14), *range(16, 28), *range(30, 34), *range(60, 75))
"""Those that publish nothing, and so are done in a moment."""


@pytest.fixture
def room(tmp_path, monkeypatch):
    monkeypatch.setenv("MENUGEN_TRACEBACK", "1")
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", "/dev/null")
    monkeypatch.setattr(arguments, "make_parser", functools.cache(arguments.make_parser))
    (tmp_path / "room").mkdir()
    return tmp_path / "room"


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
def test_a_spoilt_house_is_told_of_in_words(room, seed):
    findings, _ = run_case(plan_of(seed), room)
    assert not findings, "\n".join(f"{one.what}: menugen {one.command}\n{one.details}" for one in findings)


@pytest.mark.parametrize("name", bases())
def test_the_houses_that_are_spoilt_are_sound(room, name, capsys):
    for path, content in bases()[name].items():
        (room / "house" / path).parent.mkdir(parents=True, exist_ok=True)
        (room / "house" / path).write_bytes(content)
    assert main(["check", str(room / "house"), "--quiet"]) == 0, capsys.readouterr().err


def test_spoilt_texts_are_tidied_and_say_what_they_said():
    wrong = {seed: found for seed in range(1, 151) if (found := wrong_of(*spoilt(seed)))}
    assert not wrong, f"see the text: python -m tests.fuzz.texts --seed {next(iter(wrong))} --seconds 0.1"


def test_a_case_is_the_same_each_time():
    assert plan_of(7) == plan_of(7)
    assert len({plan_of(seed).steps for seed in range(100)}) > 70


class TestWhatIsLookedFor:
    """Each thing that must not be is found where it is."""

    def _found(self, room, monkeypatch, run, command="check"):
        monkeypatch.setattr(arguments, "_command", lambda _name: lambda _args: run)
        monkeypatch.setattr(arguments, "make_parser", arguments.make_parser.__wrapped__)
        (room / "house").mkdir()
        (room / "beside").mkdir()
        return [
            one.what
            for one in run_command(
                [command, "house", "--json"][: 3 if command == "check" else 2], room, room / "house"
            )
        ]

    def test_a_fault(self, room, monkeypatch):
        def burst(_args):
            raise KeyError("gin")

        (what,) = self._found(room, monkeypatch, burst)
        assert what.startswith("KeyError in ")

    def test_an_exit_code_that_means_nothing(self, room, monkeypatch):
        assert "check: exit code 3" in self._found(room, monkeypatch, lambda _: print("[]") or 3)

    def test_silence(self, room, monkeypatch):
        assert self._found(room, monkeypatch, lambda _: 1) == ["check: exit 1 without a word"]

    def test_json_that_is_none(self, room, monkeypatch):
        assert "its JSON is none" in self._found(room, monkeypatch, lambda _: print("[") or 1)[0]

    def test_what_a_terminal_obeys(self, room, monkeypatch):
        assert self._found(room, monkeypatch, lambda _: print('"\x9b31m"') or 1) == ["check: raw U+009B"]

    def test_what_is_written_where_nothing_should(self, room, monkeypatch):
        def write(_args):
            (room / "house" / "new.txt").write_text("x")
            return 0

        assert self._found(room, monkeypatch, write) == ["check: wrote house/new.txt"]

    def test_what_is_left_behind(self, room, monkeypatch):
        def leave(_args):
            (room / "house" / ".tidy-x").write_text("x")
            return 0

        assert self._found(room, monkeypatch, leave, "tidy") == ["tidy: left house/.tidy-x"]

    def test_a_hang(self, room, monkeypatch):
        def wait(_args):
            import time

            time.sleep(5)

        monkeypatch.setattr("tests.fuzz.cases.MOST_S", 0.05)
        (what,) = self._found(room, monkeypatch, wait)
        assert what.startswith("Hang in ")
