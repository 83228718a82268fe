"""Lets `python -m menugen` do what the installed command does."""

from menugen.cli import run

run()
