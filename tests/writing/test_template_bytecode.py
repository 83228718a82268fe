"""Code of shipped templates is kept where Python keeps that of modules; code that somebody planted is never run."""

import shutil
import sys
from pathlib import Path

import jinja2
import pytest

from menugen import kept_code as kept
from menugen.shipped import shipped_folder
from menugen.writing import template_bytecode, templates
from menugen.writing.template_bytecode import kept_code
from menugen.writing.templates import BASE, ThemeTemplates

HOME = shipped_folder("themes") / BASE
FILE = HOME / "notices.html.jinja"


@pytest.fixture(autouse=True)
def kept_in(tmp_path, monkeypatch) -> Path:
    """Where code is kept here; nothing is remembered of other tests."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "kept"))
    monkeypatch.setattr(templates, "_COMPILED", {})
    template_bytecode._made_by.cache_clear()
    yield tmp_path / "kept"
    template_bytecode._made_by.cache_clear()


def code(text: str):
    return lambda: compile(f"word = {text!r}", "a", "exec")


def test_kept_code_is_what_the_compiler_gives():
    named = [file.name for file in HOME.glob("*.jinja")]
    for name in named:
        ThemeTemplates((HOME,)).get_template(name)
    compiled = dict(templates._COMPILED)
    templates._COMPILED.clear()
    again = ThemeTemplates((HOME,))
    again._compiled = None  # type: ignore[method-assign, assignment]  # would fail if it were called
    for name in named:
        again.get_template(name)
    assert compiled == templates._COMPILED
    assert len(compiled) == len(named) >= 10


def test_code_is_made_anew_when_what_it_was_made_of_changes(monkeypatch):
    assert kept_code(FILE, code("1")) == code("1")()
    assert kept_code(FILE, code("2")) == code("1")(), "kept"
    monkeypatch.setattr(jinja2, "__version__", "99")
    template_bytecode._made_by.cache_clear()
    assert kept_code(FILE, code("3")) == code("3")(), "another Jinja"
    changed = FILE.read_bytes() + b" "
    monkeypatch.setattr(kept.Kept, "get_data", lambda self, path: _data(path, changed))
    assert kept_code(FILE, code("4")) == code("4")(), "another text"


def _data(path: str, changed: bytes) -> bytes:
    return changed if path.endswith(".jinja") else Path(path).read_bytes()


def test_the_rules_of_templates_count_as_what_code_is_made_of():
    made_by = template_bytecode._made_by()
    for name in ("templates.py", "template_rules.py"):
        assert (Path(template_bytecode.__file__).with_name(name)).read_bytes() in made_by


def test_no_code_is_kept_of_a_template_that_is_not_shipped(tmp_path, kept_in):
    own = tmp_path / "house" / "themes" / BASE / FILE.name
    own.parent.mkdir(parents=True)
    shutil.copy(FILE, own)
    assert kept_code(own, code("1")) == code("1")()
    assert kept_code(own, code("2")) == code("2")()
    assert not kept_in.exists()


def test_code_beside_a_link_to_a_shipped_template_is_not_run(tmp_path, kept_in):
    link = tmp_path / FILE.name
    try:
        link.symlink_to(FILE)
    except OSError:
        pytest.skip("no links here")
    kept.Kept(link, template_bytecode._made_by(), code("planted")).get_code(link.name)
    (planted,) = kept_in.rglob("*.pyc")
    assert tmp_path.name in planted.relative_to(kept_in).as_posix()
    assert kept_code(link, code("ours")) == code("ours")()


def test_a_broken_or_unwritable_place_costs_nothing_but_time(kept_in):
    assert kept_code(FILE, code("1")) == code("1")()
    (kept,) = kept_in.rglob("*.pyc")
    for left in (kept.read_bytes()[:7], kept.read_bytes()[:16] + b"\x00" * 40, kept.read_bytes()[:-20]):
        kept.write_bytes(left)
        assert kept_code(FILE, code("2")) == code("2")()
    shutil.rmtree(kept_in)
    kept_in.write_text("no folder")
    assert kept_code(FILE, code("3")) == code("3")()
