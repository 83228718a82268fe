"""Code of files that come with menugen, kept between runs where Python keeps that of our modules.

Templates and data files become code once. What is read again lies beside the shipped files: whoever can write there can
write into menugen itself; no code is read from a house, from a look's folder or from an output folder. Python's own
switches hold: PYTHONDONTWRITEBYTECODE and PYTHONPYCACHEPREFIX. Where nothing can be kept, each start compiles all.
"""

import hashlib
from collections.abc import Callable
from contextlib import suppress
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import CodeType
from typing import Any


def kept_code(place: Path, made_by: bytes, compiled: Callable[[], CodeType]) -> CodeType:
    """Return the code of a shipped file: as it was kept, if nothing it was made of has changed, or compiled now.

    Args:
        place: The file, with no link on its way: code must not be read from beside one.
        made_by: What decides, beside its content, which code it becomes.
        compiled: Compiles it.
    """
    # What a power cut has left of kept code cannot be read.
    with suppress(ValueError, EOFError, TypeError):
        return Kept(place, made_by, compiled).get_code(place.name) or compiled()
    return compiled()


def shipped_values(file: Path) -> Any:
    """Return what a data file of ours says, as plain values: from YAML the first time, and from kept code later.

    Args:
        file: Within the package.

    Raises:
        FileNotFoundError: There is no such file.
    """
    place = file.resolve()
    values: dict[str, Any] = {}
    # Built of the values themselves, which are texts, numbers, days, and rows and tables of them.
    exec(kept_code(place, Path(__file__).read_bytes(), lambda: _as_code(place)), values)  # noqa: S102
    return values["content"]


def _as_code(file: Path) -> CodeType:
    import yaml

    # The C loader is ten times as fast; PyYAML lacks it only where it was built without.
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    content = yaml.load(file.read_text(encoding="utf-8"), Loader=loader)  # noqa: S506  # both are safe loaders
    return compile(f"import datetime\ncontent = {content!r}", str(file), "exec")


class Kept(SourceFileLoader):
    """Python's keeper of a module's code, for what is no module."""

    def __init__(self, place: Path, made_by: bytes, compiled: Callable[[], CodeType]) -> None:
        """Remember what the code is made of; the arguments are those of `kept_code`."""
        super().__init__(place.name, str(place))
        self._made_by = made_by
        self._compiled = compiled

    def path_stats(self, path: Any) -> dict[str, int]:
        """Return what must be the same for the kept code to hold, in the shape of a file's time and size."""
        source = self.get_data(path)
        digest = hashlib.sha256(source + self._made_by).digest()
        return {"mtime": int.from_bytes(digest[:4], "big"), "size": len(source)}

    def source_to_code(self, *_source: Any, **_options: Any) -> CodeType:  # type: ignore[override]  # reads no source
        """Compile it."""
        return self._compiled()
