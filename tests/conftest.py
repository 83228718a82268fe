"""What tests of every room share: one real browser."""

import os
import shutil
from collections.abc import Iterator
from typing import Any

import pytest

ARGUMENTS = ("--no-sandbox", "--disable-dev-shm-usage", "--disable-gpu", "--disable-background-networking")


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """A running Chromium from the PATH; tests that ask for it are skipped where there is none.

    With MENUGEN_BROWSER=required, as in CI, a missing browser is a failure: a skipped check has not passed.
    """
    program = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if program is None:
        if os.environ.get("MENUGEN_BROWSER") == "required":
            pytest.fail("there is no Chromium on the PATH, and this run must have one")
        pytest.skip("there is no Chromium on the PATH")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=list(ARGUMENTS))
        yield browser
        browser.close()
