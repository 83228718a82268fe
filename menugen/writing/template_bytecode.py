"""Code of the templates that come with menugen, kept between runs where Python keeps that of our modules.

A look is a stranger's, so no code is read from a house, from a look's folder or from an output folder. What is read
lies beside the shipped templates: whoever can write there can write into menugen itself. Python's own switches hold:
PYTHONDONTWRITEBYTECODE and PYTHONPYCACHEPREFIX. Where nothing can be kept, templates are compiled at each start.
"""

import hashlib
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import CodeType
from typing import Any

import jinja2

from menugen.writing.theme_files import is_shipped


def kept_code(file: Path, compiled: Callable[[], CodeType]) -> CodeType:
    """Return the code of a template: as it was kept, if nothing it was made of has changed, or compiled now.

    Args:
        file: The template.
        compiled: Compiles it.
    """
    # A link into the shipped folder must not have its code read from beside the link.
    place = file.resolve()
    if is_shipped(place):
        # What a power cut has left of kept code cannot be read.
        with suppress(ValueError, EOFError, TypeError):
            return _Kept(place, compiled).get_code(place.name) or compiled()
    return compiled()


class _Kept(SourceFileLoader):
    """Python's keeper of a module's code, which compiles a template."""

    def __init__(self, place: Path, compiled: Callable[[], CodeType]) -> None:
        super().__init__(place.name, str(place))
        self._compiled = compiled

    def path_stats(self, path: Any) -> dict[str, int]:
        """Return what must be the same for the kept code to hold, in the shape of a file's time and size."""
        source = self.get_data(path)
        digest = hashlib.sha256(source + _made_by()).digest()
        return {"mtime": int.from_bytes(digest[:4], "big"), "size": len(source)}

    def source_to_code(self, *_source: Any, **_options: Any) -> CodeType:  # type: ignore[override]  # reads no source
        """Compile the template."""
        return self._compiled()


@cache
def _made_by() -> bytes:
    """Return what decides, beside its text, which code a template becomes."""
    own = (Path(__file__).with_name(name).read_bytes() for name in ("templates.py", "template_rules.py"))
    return b"".join((jinja2.__version__.encode(), *own))
