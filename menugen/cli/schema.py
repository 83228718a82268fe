"""menugen schema."""

import argparse
import json
from pathlib import Path

from menugen.cli.terminal import fail
from menugen.problems import visible
from menugen.reading import json_schemas
from menugen.writing import PublishFault
from menugen.writing.one_file import put_file


def run(args: argparse.Namespace) -> int:
    """Print one schema, or write all."""
    schemas = {
        kind: json.dumps(schema, indent=2, ensure_ascii=False) for kind, schema in json_schemas().items()
    }
    if args.kind:
        print(schemas[args.kind])
        return 0
    folder = Path(args.to or ".schemas")
    try:
        for kind, text in schemas.items():
            put_file(folder, f"{kind}.schema.json", f"{text}\n".encode())
    except PublishFault as fault:
        return fail(fault.message)
    if not args.quiet:
        print(f"{len(schemas)} schemas in {visible(folder.as_posix())}")
    return 0
