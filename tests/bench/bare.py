"""What the bare libraries take for the same text: parse, Markdown, template, write; nothing is worked out or checked.

The yardstick for a publish: the same front matter through PyYAML's C loader, the same notes through markdown-it-py, a
page a drink of the size menugen writes through Jinja2, all written to the disk.
"""

import sys
import time
from pathlib import Path

import yaml
from jinja2 import Environment
from markdown_it import MarkdownIt

_PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{{ name }}</title></head><body>
<main><h1>{{ name }}</h1>{{ notes }}<ul>{% for line in lines %}<li>{{ line }}</li>{% endfor %}</ul>
<dl>{% for key, value in facts %}<div><dt>{{ key }}</dt><dd>{{ value }}</dd></div>{% endfor %}</dl>
<p>{{ filler }}</p></main></body></html>"""


def publish_bare(house: Path, out: Path, page_bytes: int) -> float:
    """Write a bare page for each spec of a house and return the seconds it took, start-up of Python left out."""
    begun = time.perf_counter()
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    markdown = MarkdownIt("commonmark", {"html": False})
    template = Environment(autoescape=True).from_string(_PAGE)
    out.mkdir(parents=True)
    listed = []
    for file in sorted((house / "specs").glob("*.md")):
        _, front, body = file.read_text("utf-8").split("---\n", 2)
        spec = yaml.load(front, Loader=loader)  # noqa: S506  # the safe loader, in C
        lines = spec["pour"] if isinstance(spec["pour"], list) else [spec["pour"]]
        page = template.render(
            name=spec["name"],
            notes=markdown.render(body.split("## Bar notes")[0]),
            lines=lines,
            facts=[(key, str(value)) for key, value in spec.items()],
            filler="x" * (page_bytes - 800),
        )
        (out / f"{file.stem}.html").write_text(page, encoding="utf-8")
        listed.append(spec["name"])
    for file in sorted((house / "stock").glob("*.yaml")):
        yaml.load(file.read_text("utf-8"), Loader=loader)  # noqa: S506  # as above
    (out / "index.html").write_text("\n".join(listed), encoding="utf-8")
    return time.perf_counter() - begun


if __name__ == "__main__":
    print(publish_bare(Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3])))
