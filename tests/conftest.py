"""What tests of every room share: their order, how many examples a law is tried on, and one real browser.

The browser draws with the fonts of tests/fonts alone.
"""

import gc
import os
import shutil
from collections.abc import Generator, Iterator
from itertools import groupby
from pathlib import Path
from random import Random, SystemRandom
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from tests.browser.window import Window

# The usual examples are the same in every run, so that a red run is red again. No clock is looked at: how long a case
# takes is measured in tests/bench.
_UNTIMED = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("usual", _UNTIMED, derandomize=True, max_examples=100)
# New examples in every run, and many: pytest --hypothesis-profile=thorough tests/mixing
settings.register_profile("thorough", _UNTIMED, max_examples=2000)
settings.load_profile("usual")

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
        message = f"there is no {' or '.join(names)} on the PATH"
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

    The one without windows is the same engine, and opens a page in two thirds of the time.
    With MENUGEN_BROWSER=required, as in CI, a missing browser is a failure: a skipped check has not passed.
    """
    program = _program("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=list(ARGUMENTS), env=phone_fonts)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def window(chromium: Any) -> Iterator[Window]:
    """A guest's window, which every test opens anew."""
    window = Window(chromium)
    yield window
    window.close()


@pytest.fixture(scope="session")
def measured(chromium: Any) -> Iterator[Window]:
    """One that lets in the scripts and styles of whoever measures: it has no policy of content."""
    window = Window(chromium, bypass_csp=True)
    yield window
    window.close()


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--order",
        metavar="SEED",
        help='the order of tests: a number that an earlier run has shown, or "written"; by chance otherwise',
    )


def pytest_configure(config: pytest.Config) -> None:
    """Choose the order once: workers are told that of the process that starts them."""
    told = getattr(config, "workerinput", {}).get("order")
    config.option.order = told or config.option.order or str(SystemRandom().randrange(100_000))


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """One more than there are cores, for `-n auto`: a third of the time tests wait, for a browser, a save or git."""
    return (os.cpu_count() or 1) + 1


@pytest.hookimpl(optionalhook=True)  # there where there are workers
def pytest_configure_node(node: Any) -> None:
    node.workerinput["order"] = node.config.option.order


def pytest_terminal_summary(terminalreporter: Any, config: pytest.Config) -> None:
    terminalreporter.write_line(f"in this order again: --order={config.option.order}")


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, Any, Any]:
    """Look for no rubbish among ten thousand tests while they are collected: they all stay."""
    gc.disable()
    try:
        return (yield)
    finally:
        gc.enable()  # and not frozen: with releases of Hypothesis before 6.136 laws then fail as flaky


@pytest.hookimpl(tryfirst=True)  # before pytest chooses those that -m asks for
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Call all that need a browser slow, and shuffle: the files, and the tests of each."""
    for item in items:
        if item.get_closest_marker("browser"):
            item.add_marker("slow")
    if config.option.order == "written":
        return
    chance = Random(config.option.order)  # noqa: S311
    files = [list(of_file) for _, of_file in groupby(items, key=lambda item: item.path)]
    chance.shuffle(files)
    for of_file in files:
        chance.shuffle(of_file)
    items[:] = [item for of_file in files for item in of_file]
