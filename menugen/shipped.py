"""Where the looks and the starter library lie: inside an installed wheel, or at the top of a checkout."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def shipped_folder(name: str) -> Path:
    """Return the folder "themes" or "specs" that came with menugen.

    Raises:
        FileNotFoundError: Neither an installed wheel nor a checkout holds it: the installation is broken.
    """
    for folder in (_PACKAGE / "_shipped" / name, _PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(name)
