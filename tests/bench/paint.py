"""Bytes and paint times of the demo's pages on a slow phone: a bench of its own, since it needs Chromium.

Run: python tests/bench/paint.py. The phone: four times slower than this machine, 1.6 Mbit/s down, 150 ms there and back
(the mobile profile many page tests use; common practice, no published source). The host compresses, as hosts do.
"""

import gzip
import shutil
import subprocess
import sys
import tempfile
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from playwright.sync_api import sync_playwright

DEMO = Path(__file__).resolve().parents[2] / "demo_data"

_PAINTS = """() => new Promise(done => {
  new PerformanceObserver(list => {
    const last = list.getEntries().at(-1).startTime;
    const first = performance.getEntriesByName("first-contentful-paint")[0].startTime;
    done([first, last]);
  }).observe({type: "largest-contentful-paint", buffered: true});
})"""


class _Compressed(SimpleHTTPRequestHandler):
    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if not path.is_file():
            self.send_error(404)
            return
        content = gzip.compress(path.read_bytes(), 6)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002  # the library's name
        return


def paints(site: Path) -> None:
    """Print each page's compressed size, first and largest contentful paint, medians of five visits."""
    with (
        ThreadingHTTPServer(("127.0.0.1", 0), partial(_Compressed, directory=str(site))) as server,
        sync_playwright() as playwright,
    ):
        threading.Thread(target=server.serve_forever, daemon=True).start()
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        drink = min((site / "drinks").glob("*.html")).name
        for page_path in ("", "t/", f"drinks/{drink}"):
            seen = []
            for _ in range(5):
                with browser.new_context(
                    viewport={"width": 390, "height": 844}, service_workers="block"
                ) as context:
                    page = context.new_page()
                    phone = context.new_cdp_session(page)
                    phone.send("Emulation.setCPUThrottlingRate", {"rate": 4})
                    phone.send(
                        "Network.emulateNetworkConditions",
                        {
                            "offline": False,
                            "latency": 150,
                            "downloadThroughput": 1.6e6 / 8,
                            "uploadThroughput": 7.5e5 / 8,
                        },
                    )
                    page.goto(f"http://127.0.0.1:{server.server_address[1]}/{page_path}")
                    seen.append(page.evaluate(_PAINTS))
            first, largest = (sorted(times)[2] for times in zip(*seen, strict=True))
            file = site / (page_path if page_path.endswith(".html") else f"{page_path}index.html")
            size = len(gzip.compress(file.read_bytes(), 6))
            print(f"/{page_path}: {size:,} bytes, first paint {first:.0f} ms, largest {largest:.0f} ms")
        browser.close()
        server.shutdown()


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as out:
        menugen = str(Path(sys.executable).with_name("menugen"))
        subprocess.run([menugen, "publish", str(DEMO), "--to", out, "--quiet"], check=True)
        for event in sorted(Path(out).glob("*/site")):
            print(event.parent.name)
            paints(event)
