"""A library that is missing, too old or broken is one sentence: which, why, and what to type."""

import sys
from importlib import metadata, util

import pytest

from menugen.cli import arguments, libraries, main

PIP = f"{sys.executable} -m pip install"


@pytest.fixture
def installed(monkeypatch):
    """What is installed, and what menugen needs, as a test says it is."""
    versions = {"segno": "1.6.1", "pint": "0.24.4", "Broken-Lib": "7.1", "PyYAML": "6.0"}

    def version(name):
        if name not in versions:
            raise metadata.PackageNotFoundError(name)
        return versions[name]

    needs = ["segno>=1.6", "pint >= 0.24.4", 'pytest>=99; extra == "test"']
    monkeypatch.setattr(libraries.metadata, "version", version)
    monkeypatch.setattr(libraries.metadata, "requires", lambda name: needs)
    return versions


@pytest.fixture
def load(monkeypatch, tmp_path, capsys):
    """Runs a command that imports a library, and returns its exit code and what it said."""
    monkeypatch.delenv("MENUGEN_TRACEBACK", raising=False)
    monkeypatch.syspath_prepend(tmp_path)
    about = tmp_path / "broken_lib-7.1.dist-info"
    about.mkdir()
    (about / "METADATA").write_text("Name: Broken-Lib\nVersion: 7.1\n", encoding="utf-8")
    (about / "top_level.txt").write_text("brokenlib\n", encoding="utf-8")

    def loaded(text: str, *, when_run: bool = False) -> tuple[int, str]:
        (tmp_path / "brokenlib.py").write_text(text, encoding="utf-8")
        monkeypatch.delitem(sys.modules, "brokenlib", raising=False)

        theirs = {"__name__": "menugen.cli.check"}
        exec("def run(args):\n    import brokenlib\n    return brokenlib.code", theirs)  # noqa: S102
        run = theirs["run"]
        loads = (lambda _args: run) if when_run else run
        monkeypatch.setattr(arguments, "_command", lambda _name: loads)
        code = main(["check", "."])
        err = capsys.readouterr().err
        assert len(err.splitlines()) == 1, err
        return code, err

    return loaded


BREAKS = {
    "type": "raise TypeError('no such keyword')",
    "attribute": "import sys; sys.no_such_thing",
    "missing": "import no_such_module",
    "name": "from json import no_such_name",
    "syntax": "def (",
}


@pytest.mark.parametrize("how", BREAKS)
def test_a_library_that_cannot_be_imported_is_named(how, load, installed):
    code, said = load(BREAKS[how])
    assert code == 1
    assert "own" not in said
    assert ("Broken-Lib 7.1" in said) or how in ("missing", "name", "syntax")


@pytest.mark.slow
def test_the_sentence_says_which_why_and_what_to_type(load, installed):
    assert load("raise TypeError('no such keyword\\nand much advice')")[1] == (
        "menugen: the library Broken-Lib 7.1 cannot be loaded: TypeError: no such keyword; type: "
        f"{PIP} --upgrade --force-reinstall Broken-Lib\n"
    )


@pytest.mark.parametrize("when_run", [False, True])
def test_a_library_that_is_missing_is_named_whenever_it_is_asked_for(load, installed, when_run):
    code, said = load("raise ModuleNotFoundError('no part of it', name='yaml.parts')", when_run=when_run)
    assert code == 1
    assert said.startswith(
        "menugen: the library PyYAML 6.0 cannot be loaded: ModuleNotFoundError: no part of it; "
    )


def test_a_module_of_an_unknown_library_is_not_asked_for_by_its_own_name(load, installed):
    said = load("import no_such_module")[1]
    assert "the library no_such_module cannot be loaded" in said
    assert said.endswith(" menugen\n")


def test_a_library_that_is_too_old_is_the_reason_of_any_fault(load, installed):
    installed["pint"] = "0.24.3"
    expected = (
        f"menugen: pint 0.24.4 or newer is needed, and 0.24.3 is installed; type: {PIP} 'pint>=0.24.4'\n"
    )
    assert load("raise TypeError('x')") == (1, expected)
    assert load("raise AttributeError('x')", when_run=True) == (1, expected)


def test_all_that_are_missing_or_too_old_are_told_at_once(load, installed):
    installed["pint"] = "0.9"
    del installed["segno"]
    assert load("import no_such_module")[1] == (
        "menugen: segno 1.6 or newer is needed, and is not installed; pint 0.24.4 or newer is needed, and 0.9 is "
        f"installed; type: {PIP} 'segno>=1.6' 'pint>=0.24.4'\n"
    )


@pytest.mark.slow
@pytest.mark.parametrize(
    "version", ["0.24.4", "0.24.4.0", "0.24.10", "0.25", "1", "0.24.5rc1", "1!2.0+local"]
)
def test_a_version_that_is_new_enough_is_not_blamed(version, load, installed):
    installed["pint"] = version
    assert "pint" not in load("raise TypeError('x')")[1]


def test_a_part_of_python_that_is_missing_is_not_blamed_on_a_library(load, installed):
    assert "this Python lacks" in load("raise ModuleNotFoundError('no _ctypes', name='_ctypes')")[1]


def test_a_part_of_menugen_that_is_missing_is_menugens(load, installed):
    said = load("raise ModuleNotFoundError('gone', name='menugen.menu')")[1]
    assert said.startswith("menugen: menugen is not installed whole")


def test_reading_need_not_be_importable_for_a_fault_to_be_told(load, installed, monkeypatch):
    for name in [
        one for one in sys.modules if one == "menugen.reading" or one.startswith("menugen.reading.")
    ]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "menugen.reading", None)
    assert load("raise TypeError('x')")[0] == 1


def test_the_source_alone_has_no_list_of_what_it_needs(load, installed, monkeypatch):
    def none(name):
        raise metadata.PackageNotFoundError(name)

    monkeypatch.setattr(libraries.metadata, "requires", none)
    assert "Broken-Lib" in load("raise TypeError('x')")[1]


def test_what_menugen_needs_is_what_it_was_built_with():
    assert util.find_spec("menugen") is not None
    assert libraries._wanting() == []
