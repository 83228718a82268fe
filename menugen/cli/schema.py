"""menugen schema."""

import argparse
import json
from pathlib import Path

from menugen.cli.terminal import fail
from menugen.disk.whole_file import write_whole
from menugen.reading import json_schemas
from menugen.writing.theme import theme_schema


def run(args: argparse.Namespace) -> int:
    """Print one schema, or write all."""
    schemas = {
        kind: json.dumps(schema, indent=2, ensure_ascii=False)
        for kind, schema in (json_schemas() | {"theme": theme_schema()}).items()
    }
    if args.kind:
        print(schemas[args.kind])
        return 0
    folder = Path(args.to or ".schemas")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for kind, text in schemas.items():
            write_whole(folder / f"{kind}.schema.json", (text + "\n").encode(), lasting=False)
    except OSError as fault:
        return fail(f"cannot write to {folder}: {fault.strerror}")
    if not args.quiet:
        print(f"{len(schemas)} schemas in {folder.as_posix()}")
    return 0
