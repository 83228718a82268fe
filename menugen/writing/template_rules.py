"""What a template may say, read from its tree before it is ever run; and the same tree with what it does counted."""

import re
from collections.abc import Callable, Collection, Iterator
from typing import Any, NamedTuple

from jinja2 import Environment, nodes

CHARGE = "_charge"
"""The filter that counts what follows; no template may name it."""

JOIN = "_join"
"""The filter that "~" becomes; likewise."""

_NAME = re.compile(r"[a-z0-9][a-z0-9_-]*(\.[a-z0-9_-]+)*\.jinja")

_PLACES = "a template places what it is given, and works out nothing"

_REFUSED: dict[type[nodes.Node], tuple[str, str]] = {
    nodes.ScopedEvalContextModifier: ("autoescape", "every text is shown as text: take {% autoescape %} out"),
    nodes.EvalContextModifier: ("autoescape", "every text is shown as text: take {% autoescape %} out"),
    nodes.Pow: ("**", _PLACES),
    nodes.Div: ("/", _PLACES),
    nodes.NSRef: (".", "set a name of its own instead"),
}
"""By what a tree may not hold: the word it is written with, and what to do."""

_COUNTED_APART = (nodes.For, nodes.Macro, nodes.CallBlock, nodes.Block)


class RuleFault(NamedTuple):
    """Something a template says and may not; `word` is how it is written there."""

    line: int
    word: str
    message: str
    hint: str


def is_template_name(name: str) -> bool:
    """Whether a template may be called this: a plain name without a folder."""
    return _NAME.fullmatch(name) is not None


def rule_faults(
    tree: nodes.Template,
    filters: Collection[str],
    tests: Collection[str],
    is_there: Callable[[str], bool],
) -> tuple[RuleFault, ...]:
    """Return everything a template says that a look's may not, in the order of its lines.

    Args:
        tree: The template.
        filters: Those it may use.
        tests: Likewise.
        is_there: Whether there is a template of a name.
    """
    rules = _Rules(filters, tests, is_there)
    found = {fault for node in _all(tree) for fault in rules.faults(node)}
    return tuple(sorted(found))


def _all(tree: nodes.Node) -> Iterator[nodes.Node]:
    left = [tree]
    while left:
        node = left.pop()
        yield node
        left.extend(node.iter_child_nodes())


class _Rules:
    def __init__(
        self, filters: Collection[str], tests: Collection[str], is_there: Callable[[str], bool]
    ) -> None:
        self._filters = filters
        self._tests = tests
        self._is_there = is_there

    def faults(self, node: nodes.Node) -> Iterator[RuleFault]:
        if type(node) in _REFUSED:
            word, hint = _REFUSED[type(node)]
            yield RuleFault(node.lineno, word, f'a look\'s template may not use "{word}"', hint)
        elif isinstance(node, nodes.Filter | nodes.Test):
            yield from self._known(node)
        elif isinstance(node, nodes.Extends | nodes.Include | nodes.Import | nodes.FromImport):
            yield from self._template(node)
        elif type(node) in _READ_ALONE:
            yield from _READ_ALONE[type(node)](node)

    def _known(self, node: nodes.Filter | nodes.Test) -> Iterator[RuleFault]:
        is_filter = isinstance(node, nodes.Filter)
        known = self._filters if is_filter else self._tests
        if node.name in known:
            return
        what = "filter" if is_filter else "test"
        hint = f"there is: {', '.join(sorted(known))}"
        if node.name in ("safe", "forceescape"):
            hint = "every text is shown as text; what is HTML already needs no filter"
        yield RuleFault(node.lineno, node.name, f'a look\'s template has no {what} "{node.name}"', hint)

    def _template(
        self, node: nodes.Extends | nodes.Include | nodes.Import | nodes.FromImport
    ) -> Iterator[RuleFault]:
        named = node.template
        several = named.items if isinstance(named, nodes.List | nodes.Tuple) else [named]
        hint = 'write the name of one in quotes: "parts.html.jinja"'
        found = []
        for one in several:
            name = one.value if isinstance(one, nodes.Const) else None
            if not isinstance(name, str) or not is_template_name(name):
                word = name if isinstance(name, str) else ""
                yield RuleFault(node.lineno, word, "this does not name a template of the look", hint)
                return
            found.append(name)
        may_be_missing = isinstance(node, nodes.Include) and node.ignore_missing
        if not may_be_missing and not any(map(self._is_there, found)):
            yield RuleFault(node.lineno, found[0], f'there is no template called "{found[0]}"', hint)


def _private(line: int, name: str) -> Iterator[RuleFault]:
    if name.startswith("_"):
        yield RuleFault(line, name, f'"{name}" cannot be reached from a template', "name a field of the page")


def _attribute(node: nodes.Getattr) -> Iterator[RuleFault]:
    yield from _private(node.lineno, node.attr)


def _item(node: nodes.Getitem) -> Iterator[RuleFault]:
    if isinstance(node.arg, nodes.Const) and isinstance(node.arg.value, str):
        yield from _private(node.lineno, node.arg.value)


def _output(node: nodes.Output) -> Iterator[RuleFault]:
    for child in node.nodes:
        if isinstance(child, nodes.Const) and type(child.value) not in (str, int, float):
            yield RuleFault(child.lineno, "", f'"{child.value}" is no text', "name a text of the page")


def _name(node: nodes.Name) -> Iterator[RuleFault]:
    if node.name in ("varargs", "kwargs"):
        yield RuleFault(
            node.lineno, node.name, f'a look\'s template may not use "{node.name}"', "name what a macro takes"
        )
    elif node.name.startswith("_"):
        yield from _private(node.lineno, node.name)


def _call(node: nodes.Call) -> Iterator[RuleFault]:
    if node.dyn_args is not None or node.dyn_kwargs is not None:
        yield RuleFault(
            node.lineno, "*", 'a look\'s template may not use "*" in a call', "write out what is handed over"
        )


def _literal(node: nodes.List | nodes.Tuple | nodes.Dict) -> Iterator[RuleFault]:
    """Yield a fault of a row that holds more than plain values: rows of rows of rows compare without end."""
    if isinstance(node, nodes.Tuple) and node.ctx == "store":
        return
    items = (
        [part for pair in node.items for part in (pair.key, pair.value)]
        if isinstance(node, nodes.Dict)
        else node.items
    )
    if not all(isinstance(item, nodes.Const) for item in items):
        yield RuleFault(
            node.lineno,
            "",
            "a row written in a template may hold only texts and numbers",
            "name the fields one by one",
        )


_READ_ALONE: dict[type[nodes.Node], Callable[[Any], Iterator[RuleFault]]] = {
    nodes.Getattr: _attribute,
    nodes.Getitem: _item,
    nodes.Output: _output,
    nodes.Name: _name,
    nodes.Call: _call,
    nodes.List: _literal,
    nodes.Tuple: _literal,
    nodes.Dict: _literal,
}


def counted(tree: nodes.Template, environment: Environment) -> nodes.Template:
    """Return the tree with a count at the head of all that can run more than once, and at each "~". It is changed."""
    for node in _all(tree):
        for field, value in node.iter_fields():
            if isinstance(value, nodes.Concat):
                setattr(node, field, _joined(value, environment))
            elif isinstance(value, list):
                value[:] = [
                    _joined(one, environment) if isinstance(one, nodes.Concat) else one for one in value
                ]
    for node in list(_all(tree)):
        if isinstance(node, (*_COUNTED_APART, nodes.Template)):
            steps, characters = _weight(node.body)
            node.body.insert(
                0, nodes.ExprStmt(_charge(steps, characters, node.lineno, environment), lineno=node.lineno)
            )
        if isinstance(node, nodes.For) and node.test is not None:
            node.test = nodes.And(_charge(1, 0, node.lineno, environment), node.test, lineno=node.lineno)
    return tree


def _joined(node: nodes.Concat, environment: Environment) -> nodes.Filter:
    first, *rest = [_joined(one, environment) if isinstance(one, nodes.Concat) else one for one in node.nodes]
    made = nodes.Filter(first, JOIN, rest, [], None, None, lineno=node.lineno)
    made.environment = environment
    return made


def _charge(steps: int, characters: int, line: int, environment: Environment) -> nodes.Filter:
    made = nodes.Filter(
        nodes.Const(steps, lineno=line),
        CHARGE,
        [nodes.Const(characters, lineno=line)],
        [],
        None,
        None,
        lineno=line,
    )
    made.environment = environment
    return made


def _weight(body: list[nodes.Node]) -> tuple[int, int]:
    """Return how many parts a body has, and characters of its own, without what is counted apart."""
    steps, characters = 1, 0
    left = list(body)
    while left:
        node = left.pop()
        steps += 1
        if isinstance(node, nodes.TemplateData):
            characters += len(node.data)
        elif isinstance(node, nodes.Const) and isinstance(node.value, str):
            characters += len(node.value)
        if isinstance(node, _COUNTED_APART):
            if isinstance(node, nodes.For):
                left += node.else_
            continue
        left.extend(node.iter_child_nodes())
    return steps, characters
