"""The demo is published as it always was: byte for byte, but where a change was meant.

`old_bytes/demo.tar.xz` holds what was published, and what `menugen drink` said. A change that is meant is read in
the failure first; then UPDATE_EXPECTED=1 writes the new bytes.
"""

import contextlib
import difflib
import io
import json
import os
import re
import shutil
import tarfile
from collections.abc import Iterator
from importlib.metadata import version
from pathlib import Path

import pytest

from menugen.cli import main

_HERE = Path(__file__).parent
_REPOSITORY = _HERE.parent
_OLD = _HERE / "old_bytes" / "demo.tar.xz"
_VERSIONS = "versions.json"
_DRAWN_BY = ("pillow", "fonttools", "brotli", "segno")
"""Libraries whose versions decide the bytes of pictures and fonts, and so the names that are made of those bytes."""
_DRAWN = (".png", ".woff2", ".webp", ".jpg")
_BY_CONTENT = re.compile(
    rb"(?<=\.)[0-9a-f]{8}(?=\.(?:css|woff2|png|webp|jpg))|(?<=sha256-)[A-Za-z0-9+/=]{44}|(?<=VERSION = \")[0-9a-f]{16}"
)


@pytest.fixture(scope="module")
def published(tmp_path_factory) -> dict[str, bytes]:
    """What is published and said now, by name, from a copy that lies in no repository."""
    home = tmp_path_factory.mktemp("demo")
    for folder in ("demo_data", "specs"):
        shutil.copytree(_REPOSITORY / folder, home / folder, ignore=shutil.ignore_patterns("out", ".schemas"))
    house = home / "demo_data"
    assert main(["publish", str(house), "--quiet"]) == 0
    out = house / "out"
    found = {
        file.relative_to(out).as_posix(): file.read_bytes()
        for file in sorted(out.rglob("*"))
        if file.is_file() and not any(part.startswith(".") for part in file.relative_to(out).parts)
    }
    for spec in sorted((home / "specs").glob("*.md")):
        if spec.stem == "README":
            continue
        for kind in ("", "--working", "--json"):
            said = io.StringIO()
            with contextlib.redirect_stdout(said):
                main(["drink", spec.stem, "--house", str(house), *filter(None, [kind])])
            found[f"said/{spec.stem}{kind}.txt"] = said.getvalue().replace(str(home), "").encode()
    return found


def _old() -> tuple[dict[str, bytes], dict[str, str]]:
    with tarfile.open(_OLD) as archive:
        files = {
            member.name: handle.read()
            for member in archive.getmembers()
            if (handle := archive.extractfile(member)) is not None
        }
    return files, json.loads(files.pop(_VERSIONS))


def _write(files: dict[str, bytes]) -> None:
    held = {**files, _VERSIONS: json.dumps(_versions(), indent=1).encode()}
    with tarfile.open(_OLD, "w:xz") as archive:
        for name, content in sorted(held.items()):
            member = tarfile.TarInfo(name)
            member.size = len(content)
            archive.addfile(member, io.BytesIO(content))


def _versions() -> dict[str, str]:
    return {name: version(name) for name in _DRAWN_BY}


def _differing(old: dict[str, bytes], new: dict[str, bytes]) -> Iterator[str]:
    """Yield what is otherwise, as a reader of diffs expects it."""
    for name in sorted({*old, *new}):
        before, after = old.get(name), new.get(name)
        if before == after:
            continue
        if before is None or after is None:
            yield f"{name}: {'new' if before is None else 'gone'}"
        elif name.endswith(_DRAWN):
            yield f"{name}: other bytes"
        else:
            yield "\n".join(
                difflib.unified_diff(
                    before.decode().splitlines(), after.decode().splitlines(), name, name, lineterm="", n=1
                )
            )[:2000]


@pytest.mark.slow
def test_the_demo_is_published_as_before(published):
    """With other versions of what draws, the names made of drawn bytes are left out, and so are those bytes."""
    if os.environ.get("UPDATE_EXPECTED"):
        _write(published)
    old, versions = _old()
    new = published
    if versions != _versions():
        old, new = _without_what_is_drawn(old), _without_what_is_drawn(new)
    told = list(_differing(old, new))
    assert not told, "\n\n".join(told[:10])


def _without_what_is_drawn(files: dict[str, bytes]) -> dict[str, bytes]:
    return {
        _BY_CONTENT.sub(b"#", name.encode()).decode(): _BY_CONTENT.sub(b"#", content)
        for name, content in files.items()
        if not name.endswith(_DRAWN)
    }


@pytest.mark.parametrize("kind", ["a letter", "a file more", "a file less"])
def test_a_difference_is_told(kind):
    old = {"site/index.html": b"<p>gin\n", "site/icon.svg": b"<svg>"}
    new = {
        "a letter": {**old, "site/index.html": b"<p>Gin\n"},
        "a file more": {**old, "site/new.html": b""},
        "a file less": {"site/index.html": b"<p>gin\n"},
    }[kind]
    assert len(list(_differing(old, new))) == 1
