"""Code of the templates that come with menugen, kept between runs. A look's own is compiled at each start."""

from collections.abc import Callable
from functools import cache
from pathlib import Path
from types import CodeType

import jinja2

from menugen import kept_code as kept
from menugen.writing.theme_files import is_shipped


def kept_code(file: Path, compiled: Callable[[], CodeType]) -> CodeType:
    """Return the code of a template: as it was kept, if nothing it was made of has changed, or compiled now.

    Args:
        file: The template.
        compiled: Compiles it.
    """
    # A link into the shipped folder must not have its code read from beside the link.
    place = file.resolve()
    return kept.kept_code(place, _made_by(), compiled) if is_shipped(place) else compiled()


@cache
def _made_by() -> bytes:
    """Return what decides, beside its text, which code a template becomes."""
    own = (Path(__file__).with_name(name).read_bytes() for name in ("templates.py", "template_rules.py"))
    return b"".join((jinja2.__version__.encode(), *own))
