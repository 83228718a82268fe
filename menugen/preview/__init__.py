"""The pages on this machine, made again on every save.

Comes in: a house. Goes out: its events' sites over HTTP on the loopback address, with problems shown in the page.
Nothing is written to the disk, and nobody outside this machine can ask for anything.
"""

from menugen.preview.server import NoPort, PreviewServer, serve

__all__ = ["NoPort", "PreviewServer", "serve"]
