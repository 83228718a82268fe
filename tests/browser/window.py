"""One window of a browser, used by one test after the other: a new one takes ten times as long as a page."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any


class Window:
    """A guest's window: set up anew at every opening, with what its pages said and asked for since.

    A test that holds back requests, adds scripts to pages, looks at what a browser keeps or has colours forced takes a
    context of its own: some of that stays.

    Attributes:
        page: The page in it.
        said: What its console has said, and faults of scripts.
        asked: Addresses that were asked for.
    """

    def __init__(self, browser: Any, **context: Any) -> None:
        self.page = browser.new_context(**context).new_page()
        self.said: list[str] = []
        self.asked: list[str] = []
        self._media: dict[str, str] = {}
        self.page.emulate_media = partial(self._emulate, self.page.emulate_media)
        self.page.on("console", lambda message: self.said.append(message.text))
        self.page.on("pageerror", lambda fault: self.said.append(str(fault)))
        self.page.on("request", lambda request: self.asked.append(request.url))

    def open(
        self, file: Path | None = None, width: int = 390, height: int = 844, scheme: str = "light"
    ) -> Any:
        """Open a file, or an empty page, as if it were the first: on a screen of this size, light or dark."""
        self.page.goto("about:blank")
        self.said.clear()
        self.asked.clear()
        # Each of these two takes as long as half a page: they are done where they change something.
        if self.page.viewport_size != (size := {"width": width, "height": height}):
            self.page.set_viewport_size(size)
        if self._media != (media := {"media": "null", "color_scheme": scheme}):
            self.page.emulate_media(**media)
        if file:
            self.page.goto(file.as_uri())
        return self.page

    def _emulate(self, emulate: Callable[..., None], **media: str) -> None:
        self._media |= media
        emulate(**media)

    def close(self) -> None:
        self.page.context.close()
