"""How long it takes from saving a spec until a preview shows it: a whole preview, and a page open as in a browser."""

import http.client
import statistics
import subprocess
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from tests.bench.timing import command, environment


@contextmanager
def _preview(house: Path, kept: str) -> Iterator[http.client.HTTPConnection]:
    with subprocess.Popen(
        command("preview", str(house), "--port", "0", "--quiet"),
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=environment(kept),
        text=True,
    ) as process:
        try:
            assert process.stdout is not None
            address = process.stdout.readline().split("/")[2]
            with closing(http.client.HTTPConnection(address, timeout=60)) as connection:
                yield connection
        finally:
            process.terminate()


@contextmanager
def _told_of_changes(host: str, port: int, page: str) -> Iterator[http.client.HTTPResponse]:
    """Keep the line open by which a page in a browser is told of changes; the first word is read."""
    with closing(http.client.HTTPConnection(host, port, timeout=60)) as line:
        line.request("GET", f"/-/changes?{page}")
        told = line.getresponse()
        _wait_for_word(told)
        yield told


def _wait_for_word(told: http.client.HTTPResponse) -> None:
    while not told.readline().startswith(b"data:"):
        pass


def _shows(connection: http.client.HTTPConnection, page: str, words: str) -> bool:
    connection.request("GET", page)
    return words in connection.getresponse().read().decode()


def seconds_to_page(
    house: Path, spec: str, page: str, kept: str, saves: int = 7, pause_s: float = 0.3
) -> float:
    """Return the median time from a save of a spec until its page has it, the first two saves not counted.

    Args:
        house: A copy that may be changed.
        spec: The spec's file, below the house.
        page: The page's address, without the host.
        kept: As `environment` takes it.
        saves: How many are counted.
        pause_s: Between a page that is shown and the next save. All other pages are made meanwhile; a save that comes
            sooner ends that, and finds the processor busy for a moment.
    """
    taken = []
    file = house / spec
    head, line, rest = file.read_text("utf-8").partition("\nname: ")
    name, _, rest = rest.partition("\n")
    with _preview(house, kept) as connection:
        while not _shows(connection, page, name):
            time.sleep(0.05)
        with _told_of_changes(connection.host, connection.port, page) as told:
            for save in range(saves + 2):
                time.sleep(pause_s)
                new = f"{name} Nr {save}"
                content = f"{head}{line}{new}\n{rest}"
                begun = time.perf_counter()
                file.write_text(content, "utf-8")
                shown = False
                while not shown:
                    _wait_for_word(told)
                    shown = _shows(connection, page, new)
                if save > 1:
                    taken.append(time.perf_counter() - begun)
    return statistics.median(taken)
