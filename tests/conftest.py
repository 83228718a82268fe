"""What tests of every room share: one real browser, which draws with the fonts of tests/fonts alone."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

settings.register_profile(
    "menugen", deadline=None
)  # how long a case takes is measured in tests/bench, never here
settings.load_profile("menugen")

FONTS = Path(__file__).parent / "fonts"

FONT_RULES = """\
<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd">
<fontconfig>
  <dir>{fonts}</dir>
  <cachedir>{cache}</cachedir>
  <alias><family>serif</family><prefer><family>DejaVu Serif</family></prefer></alias>
  <alias><family>sans-serif</family><prefer><family>DejaVu Sans</family></prefer></alias>
</fontconfig>
"""
"""All that fontconfig is told: nothing of the machine's own rules, whose fonts and likings differ."""

ARGUMENTS = ("--no-sandbox", "--disable-dev-shm-usage", "--disable-gpu", "--disable-background-networking")


def _program(*names: str) -> str:
    found = next(filter(None, map(shutil.which, names)), None)
    if found is None:
        message = f"there is no {names[0]} on the PATH"
        if os.environ.get("MENUGEN_BROWSER") == "required":
            pytest.fail(f"{message}, and this run must have one")
        pytest.skip(message)
    return found


@pytest.fixture(scope="session")
def pdftoppm() -> str:
    """The program that makes pictures of printed pages; the same rule as for Chromium."""
    return _program("pdftoppm")


@pytest.fixture(scope="session")
def phone_fonts(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The environment in which a program that asks fontconfig finds the fonts of tests/fonts and no other."""
    folder = tmp_path_factory.mktemp("fontconfig")
    rules = folder / "fonts.conf"
    rules.write_text(FONT_RULES.format(fonts=FONTS, cache=folder / "cache"), encoding="utf-8")
    return {**os.environ, "FONTCONFIG_FILE": str(rules)}


@pytest.fixture(scope="session")
def chromium(phone_fonts: dict[str, str]) -> Iterator[Any]:
    """A running Chromium from the PATH; tests that ask for it are skipped where there is none.

    With MENUGEN_BROWSER=required, as in CI, a missing browser is a failure: a skipped check has not passed.
    """
    program = _program("chromium", "chromium-browser", "google-chrome")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=list(ARGUMENTS), env=phone_fonts)
        yield browser
        browser.close()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Run the fast tests first: those that need a browser, or a process of their own, come last."""
    slow = ("chromium", "pdftoppm", "published")
    items.sort(
        key=lambda item: (
            item.get_closest_marker("browser") is not None
            or any(name in getattr(item, "fixturenames", ()) for name in slow),
            "tests/cli/" in item.nodeid,
        )
    )
