"""Rooms are used by their faces: what one room needs of another is in that one's `__init__`."""

import ast
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path

import menugen

PACKAGE = Path(menugen.__file__).parent
ROOMS = frozenset(entry.name for entry in PACKAGE.iterdir() if (entry / "__init__.py").is_file())

AT_MOST = {
    "past": 15,
    "preview": 1,
    "reading": 11,
    "writing": 45,
}
"""By room, how many imports may go past its `__init__`: none of a room that is not here. A number may only fall.

`past` has three readers that need a part each and would wait for the rest; of `preview` one command wants the pages and
not the server; `writing` may know `reading.theme_file` and no more of reading; and its own modules stand for libraries
(fonts, photos, templates) that a command without them must not load.
"""


def _room(module: str) -> str:
    parts = module.split(".")
    return parts[1] if len(parts) > 1 and parts[0] == "menugen" and parts[1] in ROOMS else ""


def _imports(nodes: Iterable[ast.AST]) -> Iterator[tuple[int, str, str]]:
    """Yield line, module and name of each import; the name is empty where a whole module is imported."""
    for node in nodes:
        if isinstance(node, ast.ImportFrom) and node.module:
            yield from ((node.lineno, node.module, alias.name) for alias in node.names)
        elif isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name, "") for alias in node.names)


def _face(room: str) -> list[ast.stmt]:
    return ast.parse((PACKAGE / room / "__init__.py").read_text("utf-8")).body


def _shown(room: str) -> frozenset[str]:
    """Return what a room's `__init__` says that it shows."""
    said = (node.value for node in _face(room) if isinstance(node, ast.Assign) and _is_all(node))
    return frozenset(name for value in said for name in ast.literal_eval(value))


def _is_all(node: ast.Assign) -> bool:
    return [getattr(target, "id", "") for target in node.targets] == ["__all__"]


def _past_the_face() -> list[tuple[str, str]]:
    """Return room and import of each name that somebody outside a room takes from a module inside it."""
    shown = {room: _shown(room) for room in ROOMS}
    found = []
    for file in sorted(PACKAGE.rglob("*.py")):
        here = file.relative_to(PACKAGE)
        for line, module, name in _imports(ast.walk(ast.parse(file.read_text("utf-8")))):
            room = _room(module)
            if room and room != here.parts[0] and (module.count(".") > 1 or name not in shown[room]):
                found.append((room, f"{here}:{line}: {module} {name}"))
    return found


def test_rooms_import_each_other_by_their_faces() -> None:
    found = _past_the_face()
    counts = Counter(room for room, _ in found)
    for room in sorted(counts.keys() | AT_MOST.keys()):
        here = "\n".join(line for one, line in found if one == room)
        assert counts[room] <= AT_MOST.get(room, 0), (
            f"{room}: import these from menugen.{room} itself\n{here}"
        )


def test_a_face_shows_all_that_it_takes_from_its_room() -> None:
    for room in ROOMS:
        taken = {
            name
            for _, module, name in _imports(_face(room))
            if _room(module) == room and not name.startswith("_")
        }
        assert taken <= _shown(room), f"{room}: {sorted(taken - _shown(room))}"
