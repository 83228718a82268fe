"""Templates in a sandbox: they place what a page's record holds, and can do nothing else, without end or at any size.

A look is a stranger's. Its templates reach the fields of our records and each other's macros, no object of Python, no
method, no file outside the look. What they do is counted, not timed, so that it ends on every system alike.
"""

import sys
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from functools import wraps
from pathlib import Path
from types import CodeType
from typing import Any, NoReturn

from jinja2 import (
    BaseLoader,
    StrictUndefined,
    Template,
    TemplateNotFound,
    TemplateSyntaxError,
    Undefined,
)
from jinja2.exceptions import SecurityError
from jinja2.runtime import BlockReference, Context, LoopContext, Macro, TemplateReference, markup_join
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import pass_context
from markupsafe import Markup

from menugen.writing.template_bytecode import kept_code
from menugen.writing.template_faults import called, in_words, template_places
from menugen.writing.template_rules import CHARGE, JOIN, counted, is_template_name, rule_faults
from menugen.writing.theme_fault import ThemeFault, place_of, raise_all
from menugen.writing.theme_files import (
    LARGEST_TEMPLATE,
    LARGEST_TEMPLATES,
    MOST_TEMPLATES,
    is_shipped,
    is_there,
    read_own_text,
    size_of,
    template_names,
)

BASE = "base"
"""The folder whose templates and structure every theme builds on; it is no theme itself."""

DEEPEST = 40
"""Macros and blocks that may be at work within one another; ours need six."""

STEPS, STEPS_A_WAY = 500_000, 20_000
"""What the pages of one menu may take: parts of a template placed, in all and for each way to make a drink."""

CHARACTERS, CHARACTERS_A_WAY = 4_000_000, 100_000
"""Likewise, characters written and put together."""

SECONDS, SECONDS_A_WAY = 20.0, 0.05
"""A last bound, for work that hides between two steps; the others come long before it."""

_LARGEST_NUMBER = 1_000_000
_UNBOUNDED = 1 << 62
_LOOK_AT_THE_CLOCK = 1 << 14

_OF_A_LOOP = frozenset(
    "changed cycle depth depth0 first index index0 last length nextitem previtem revindex revindex0".split()  # noqa: SIM905
)
_NOTHING: frozenset[str] = frozenset()


class TooMuch(SecurityError):
    """A template takes more than its pages could need."""


class ThemeTemplates(ImmutableSandboxedEnvironment):
    """Finds a look's templates first and the base's after, and lets them place a page's record.

    Attributes:
        own: The names of the templates that are a look's own and not shipped, each with its file.
    """

    intercepted_binops = frozenset(("+", "-", "*", "/", "//", "%", "**"))

    def __init__(self, folders: Sequence[Path]) -> None:
        """Remember where templates lie; of those that are not shipped, each is looked at.

        Args:
            folders: Where templates are found, the first that holds a name wins.

        Raises:
            ThemeFault: A template of a look's own is at fault; all that are, together.
        """
        super().__init__(
            undefined=_Missing,
            finalize=self._placed,
            autoescape=True,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,
            cache_size=-1,
            loader=_Loader(folders),
        )
        self.globals.clear()
        self.filters = {name: self._charging(self.filters[name]) for name in FILTERS}
        self.filters |= {CHARGE: self._charge, JOIN: self._join}
        self.tests = {name: self.tests[name] for name in TESTS}
        self._names: dict[type, frozenset[str]] = {}
        self._texts: dict[str, str] = {}
        self._steps = self._characters = self._clock_at = _UNBOUNDED
        self._until = float("inf")
        self._deep = 0
        self.own: dict[str, Path] = {}
        self._find_own(folder for folder in folders if not is_shipped(folder))

    def _find_own(self, folders: Iterable[Path]) -> None:
        faults: list[ThemeFault] = []
        for folder in folders:
            names = template_names(folder)
            if len(names) > MOST_TEMPLATES:
                faults.append(
                    ThemeFault(
                        folder,
                        f"there are {len(names)} templates here",
                        hint=f"a look has {MOST_TEMPLATES} at most",
                    )
                )
                continue
            if sum(size_of(folder / name) for name in names) > LARGEST_TEMPLATES:
                most = LARGEST_TEMPLATES // 1024
                faults.append(ThemeFault(folder, f"the templates here are larger than {most} KiB in all"))
                continue
            for name in names:
                self.own.setdefault(name, folder / name)
        for name, file in self.own.items():
            try:
                if not is_template_name(name):
                    raise ThemeFault(
                        file, "a template cannot have this name", hint='write it as "drink.html.jinja"'
                    )
                self.get_template(name)
            except ThemeFault as fault:
                faults.append(fault)
        raise_all(faults)

    def begin(self, ways: int) -> None:
        """Let templates write the pages of one menu from now on.

        Args:
            ways: To make its drinks, in all.
        """
        self._steps = STEPS + ways * STEPS_A_WAY
        self._characters = CHARACTERS + ways * CHARACTERS_A_WAY
        self._clock_at = self._steps - _LOOK_AT_THE_CLOCK
        self._until = time.monotonic() + SECONDS + ways * SECONDS_A_WAY
        self._deep = 0

    @property
    def left(self) -> tuple[int, int]:
        """Steps and characters that are left of what `begin` allowed."""
        return self._steps, self._characters

    # What compiled templates call.

    def getattr(self, obj: Any, attribute: str) -> Any:
        """Return a field of a record, what a mapping has under a name, or what a loop or a template offers."""
        kind = type(obj)
        if kind is dict:
            try:
                return obj[attribute]
            except KeyError:
                return self._no_such(obj, attribute)
        names = self._names.get(kind)
        if names is None:
            names = self._names[kind] = _names_of(kind)
        if attribute in names:
            return getattr(obj, attribute)
        return self._looked_up(obj, attribute)

    def getitem(self, obj: Any, argument: Any) -> Any:
        """Return what stands at a place of a row, or what `getattr` returns for a name."""
        if isinstance(argument, str):
            return self.getattr(obj, str(argument))
        if isinstance(obj, str) or not isinstance(obj, Sequence):
            return self._no_such(obj, argument)
        if isinstance(argument, slice):
            self._charge(None, len(obj), 0)
        try:
            return obj[argument]
        except (TypeError, ValueError, LookupError):
            return self._no_such(obj, argument)

    # The names leave all others to what is called.
    def call(__self, __context: Context, __obj: Any, *args: Any, **kwargs: Any) -> Any:  # noqa: N805
        """Call a macro, a block, or what a loop offers, and nothing else."""
        kind = type(__obj)
        if kind is not Macro and not __self._may_be_called(__obj):
            if isinstance(__obj, Undefined):
                return __obj()
            raise SecurityError("a template may call macros and blocks, and nothing else")
        if __self._deep >= DEEPEST:
            raise TooMuch("this calls itself again and again")
        __self._deep += 1
        try:
            return __context.call(__obj, *args, **kwargs)
        finally:
            __self._deep -= 1

    @staticmethod
    def _may_be_called(obj: Any) -> bool:
        return isinstance(obj, BlockReference | LoopContext) or (
            isinstance(getattr(obj, "__self__", None), LoopContext) and obj.__name__ in ("changed", "cycle")
        )

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:  # noqa: ARG002
        """Work out a sum of two small whole numbers."""
        if type(left) is not int or type(right) is not int:
            for value in (left, right):
                if isinstance(value, Undefined):
                    str(value)
            raise SecurityError(f'"{operator}" is for whole numbers; texts are put together with "~"')
        if abs(left) > _LARGEST_NUMBER or abs(right) > _LARGEST_NUMBER:
            raise SecurityError(f"a template may work out nothing with numbers over {_LARGEST_NUMBER}")
        return self.binop_table[operator](left, right)

    def handle_exception(self, source: str | None = None) -> NoReturn:  # noqa: ARG002
        """Raise what came out of a template: a fault of the look where it is one."""
        fault = sys.exc_info()[1]
        assert fault is not None  # noqa: S101  (called within "except" alone)
        found = self.fault_of(fault)
        if found is None:
            raise fault
        raise found from None

    # What is counted.

    def _placed(self, value: Any) -> Any:
        kind = type(value)
        if kind is str or kind is Markup:
            self._characters -= len(value)
            self._steps -= 1
            if self._characters < 0 or self._steps < 0:
                raise self._too_much()
            return value
        if kind is int or kind is float:
            return value
        if isinstance(value, Undefined):
            return str(value)
        if isinstance(value, str):
            return self._placed(str(value))
        raise SecurityError(f"{called(value)} cannot be placed on a page; name a text of it")

    @pass_context
    def _charge(self, _context: object, steps: int, characters: int) -> bool:
        self._steps -= steps
        self._characters -= characters
        if self._steps < self._clock_at:
            self._clock_at = self._steps - _LOOK_AT_THE_CLOCK
            if time.monotonic() > self._until:
                raise self._too_much()
        if self._characters < 0 or self._steps < 0:
            raise self._too_much()
        return True

    @pass_context
    def _join(self, _context: object, *parts: Any) -> str:
        # Counted before it is made: what is made may be as large as all the parts.
        return markup_join([self._placed(part) for part in parts])

    def _charging(self, work: Callable[..., Any]) -> Callable[..., Any]:
        # What the library says of a filter, such as what it is handed first, holds for the one that counts.
        @wraps(work)
        def charged(*args: Any, **kwargs: Any) -> Any:
            made = work(*args, **kwargs)
            if isinstance(made, str):
                self._charge(None, 1, len(made))
            return made

        return charged

    def _too_much(self) -> TooMuch:
        # Once it is too much nothing more is done, whoever catches this.
        self._steps = self._characters = -1
        return TooMuch("this goes on for longer than the pages of a menu can need")

    # What is said of faults.

    def _looked_up(self, obj: Any, attribute: str) -> Any:
        if isinstance(obj, Mapping) or type(obj) is TemplateReference:
            try:
                return obj[attribute]
            except KeyError:
                return self._no_such(obj, attribute)
        if (
            type(obj).__name__ == "TemplateModule"
            and not attribute.startswith("_")
            and attribute in vars(obj)
        ):
            return vars(obj)[attribute]
        return self._no_such(obj, attribute)

    def _no_such(self, obj: Any, name: Any) -> Undefined:
        if isinstance(obj, Undefined):
            # Says what is missing first of all.
            str(obj)
        known = sorted(self._names.get(type(obj), _NOTHING))
        there = f"; there is: {', '.join(known)}" if known else ""
        return self.undefined(f'{called(obj)} has no "{name}"{there}', obj, str(name))

    def fault_of(self, fault: BaseException, name: str = "") -> ThemeFault | None:
        """Return what is wrong with a look that a template of its own was stopped by this; None where that is ours.

        Args:
            fault: What stopped it.
            name: Of the template, where that was only read.
        """
        if isinstance(fault, ThemeFault) or not self.own:
            return fault if isinstance(fault, ThemeFault) else None
        message, hint = in_words(fault, reading=bool(name))
        if isinstance(fault, TemplateSyntaxError):
            file = self._file(fault.filename, fault.name, name)
            return self._at(file, fault.lineno, message, hint) if file else None
        if name:
            return ThemeFault(self.own[name], message, hint=hint) if name in self.own else None
        places, beyond = template_places(fault.__traceback__, __name__)
        if beyond and not isinstance(fault, RecursionError):
            # It was placed rightly, and went wrong in our own hands.
            return None
        own = [place for place in places if place[0] in self._texts]
        if own:
            return self._at(Path(own[-1][0]), own[-1][1], message, hint)
        # One of ours was handed what it cannot use, by one that stands in for another.
        named = (file for name, file in self.own.items() if f'"{name}"' in message)
        return ThemeFault(next(named, next(iter(self.own.values()))), message, hint=hint)

    def _at(self, file: Path, line: int, message: str, hint: str) -> ThemeFault:
        text = self._texts.get(str(file), "")
        return ThemeFault(file, message, place_of(file, text, line), hint)

    def _file(self, *names: str | None) -> Path | None:
        """Return the look's own file that one of these names; the library gives one or the other."""
        files = (Path(name) if name in self._texts else self.own.get(name or "") for name in names)
        return next((file for file in files if file is not None), None)

    def line_with(self, words: Sequence[str]) -> tuple[Path, int, str] | None:
        """Return the first line of a look's own template with one of these words; the earlier words count first."""
        for word in words:
            for filename, text in self._texts.items():
                at = text.lower().find(word.lower())
                if at >= 0:
                    return Path(filename), text.count("\n", 0, at) + 1, text[at : at + len(word)]
        return None

    def fault_with(self, words: Sequence[str], message: str, hint: str) -> ThemeFault:
        """Return a fault of what the look's templates wrote on a page, at the first line with one of these words."""
        found = self.line_with(words)
        if found is None:
            return ThemeFault(next(iter(self.own.values())), message, hint=hint)
        file, line, word = found
        return ThemeFault(file, message, place_of(file, self._texts[str(file)], line, word), hint)

    def loaded(self, source: str, name: str, file: Path) -> Any:
        """Return the code of a template: looked at, where it is a look's own, and with what it does counted.

        Raises:
            ThemeFault: It is a look's own, and at fault.
        """
        if name in self.own:
            self._texts[str(file)] = source
        key = (source, name, str(file))
        if key in _COMPILED:
            return _COMPILED[key]
        try:
            code = kept_code(file, lambda: self._compiled(source, name, file))
        # What parser and compiler of templates, and of Python after them, raise at what is nested without end.
        except (SyntaxError, RecursionError, MemoryError, ValueError, OverflowError) as fault:
            found_fault = self.fault_of(fault, name)
            if found_fault is None:
                raise
            raise found_fault from None
        if len(_COMPILED) >= _MOST_COMPILED:
            _COMPILED.clear()
        _COMPILED[key] = code
        return code

    def _compiled(self, source: str, name: str, file: Path) -> CodeType:
        tree = self.parse(source, name, str(file))
        if name in self.own:
            found = rule_faults(tree, FILTERS, TESTS, self._is_there)
            raise_all(
                ThemeFault(file, one.message, place_of(file, source, one.line, one.word), one.hint)
                for one in found
            )
        return self.compile(counted(tree, self), name, str(file))

    def _is_there(self, name: str) -> bool:
        assert isinstance(self.loader, _Loader)  # noqa: S101
        return self.loader.find(name) is not None


_COMPILED: dict[tuple[str, str, str], Any] = {}
"""Code of templates by text, name and file: all looks share those of the base, and all events of a house its own."""

_MOST_COMPILED = 200

FILTERS = tuple("capitalize count d default e escape first last length lower title trim upper".split())  # noqa: SIM905
"""What a template may do to a value with "|". None writes, loads, sorts, or makes text that is not escaped."""

TESTS = tuple(
    """
    boolean defined divisibleby eq equalto even false ge gt in integer le lt mapping ne none number odd sameas sequence
    string true undefined == != > >= < <= greaterthan lessthan
    """.split()  # noqa: SIM905
)
"""What a template may ask with "is"."""


class _Missing(StrictUndefined):
    """A name that is not there: any use of it is a fault."""

    @property
    def _undefined_message(self) -> str:
        return self._undefined_hint or f'nothing is called "{self._undefined_name}" here'


class _Loader(BaseLoader):
    """Takes templates from folders, by plain names, and only ordinary files of the folder itself."""

    def __init__(self, folders: Sequence[Path]) -> None:
        self._folders = folders

    def find(self, name: str) -> Path | None:
        """Return the folder that has a template; None where none has."""
        if not is_template_name(name):
            return None
        return next((folder for folder in self._folders if is_there(folder / name)), None)

    def load(self, environment: Any, name: str, globals: Any = None) -> Template:  # noqa: A002
        """Return a template, compiled.

        Raises:
            TemplateNotFound: There is none of that name.
            ThemeFault: Its file cannot be read, or it is at fault.
        """
        folder = self.find(name)
        if folder is None:
            raise TemplateNotFound(name)
        source = read_own_text(folder, name, LARGEST_TEMPLATE)
        code = environment.loaded(source, name, folder / name)
        made: Template = environment.template_class.from_code(environment, code, globals or {}, None)
        return made


def _names_of(kind: type) -> frozenset[str]:
    """Return the names a template may use of an object of this type."""
    if kind is LoopContext:
        return _OF_A_LOOP
    if kind is BlockReference:
        return frozenset({"super"})
    if not kind.__module__.startswith("menugen."):
        return _NOTHING
    own = {name for base in kind.__mro__ for name, value in vars(base).items() if isinstance(value, property)}
    if is_dataclass(kind):
        own |= {field.name for field in fields(kind)}
    elif issubclass(kind, tuple):
        own |= set(getattr(kind, "_fields", ()))
    else:
        return _NOTHING
    return frozenset(name for name in own if not name.startswith("_"))
