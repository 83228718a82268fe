"""What can be typed: commands, options, help with examples.

Help takes little longer than Python itself to start: only the command that was typed gets its arguments, and neither
typing nor shutil is imported, which argparse asks for the terminal's width.
"""

import argparse
import os
import sys
from collections.abc import Callable, Collection, Sequence

from menugen import __version__

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, NoReturn

Command = Callable[[argparse.Namespace], int]

KINDS = ("house", "spec", "stock", "event", "theme")
"""Kinds of file that have a schema."""

Load = Callable[[argparse.Namespace], Command]
"""Imports a command, which may be slow or fail, and returns it without running it."""


def _command(name: str) -> Load:
    """Return what imports the command in the module of this name."""

    def load(_args: argparse.Namespace) -> Command:
        from importlib import import_module

        run: Command = import_module(f"menugen.cli.{name}").run
        return run

    return load


def _drink(args: argparse.Namespace) -> Command:
    return _command("drink_history" if args.history or args.to else "drink")(args)


def _completion(_args: argparse.Namespace) -> Command:
    import shtab

    def run(args: argparse.Namespace) -> int:
        print(shtab.complete(make_parser(), args.shell))
        return 0

    return run


class _Parser(argparse.ArgumentParser):
    """The parser of the standard library, but what was typed reaches a terminal only as what can be seen."""

    def error(self, message: str) -> "NoReturn":
        """Say what is wrong, and leave with exit code 2."""
        from menugen.problems import visible

        super().error(visible(message))


class _CommandParser(_Parser):
    """The parser of one command. Of one that was not typed nothing is made but what help says of it."""

    def __init__(self, *, typed: bool = True, **options: "Any") -> None:
        if typed:
            super().__init__(**options)
        else:
            vars(self).update(options)


class _Help(argparse.RawDescriptionHelpFormatter):
    """Help as wide as the terminal."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=_columns() - 2)


def _columns() -> int:
    """Return the width of the terminal, or what COLUMNS says it is."""
    try:
        if (columns := int(os.environ["COLUMNS"])) > 0:
            return columns
    except (KeyError, ValueError):
        pass
    try:
        return os.get_terminal_size(sys.__stdout__.fileno()).columns or 80  # type: ignore[union-attr]  # None is caught
    except (AttributeError, ValueError, OSError):
        return 80


def _house_or_event(parser: argparse.ArgumentParser) -> None:
    argument = parser.add_argument(
        "where",
        nargs="?",
        default=".",
        metavar="HOUSE_OR_EVENT",
        help="the house's folder, or one event's file (default: this folder)",
    )
    _files(argument)


def _files(argument: argparse.Action) -> None:
    """Let a shell complete an argument with files."""
    argument.complete = {"bash": "_shtab_compgen_files", "zsh": "_files", "tcsh": "f"}  # type: ignore[attr-defined]  # read by shtab


def _at(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--at", metavar="REVISION", help="the house as git has it at this revision")


def _drink_arguments(drink: argparse.ArgumentParser) -> None:
    drink.add_argument("spec", metavar="SPEC", help="a spec's file, or its name")
    drink.add_argument(
        "--house", metavar="DIR", help="the house (default: found from the spec or this folder)"
    )
    drink.add_argument(
        "--event", metavar="EVENT", help="with this event's bottles and region: its file or name"
    )
    _at(drink)
    drink.add_argument(
        "--set",
        action="append",
        metavar="NAME=MEASURE",
        help='with another measure, beside the drink as written: "lime juice=20 ml", "egg white=none", '
        '"single cream=oat cream"; may be given again',
    )
    drink.add_argument(
        "--aim",
        action="append",
        metavar="FIGURE=VALUE",
        help='find measures that reach it: "abv=12 %%", "sweetness=as before"; also acid, balance (sweet to sour), '
        "volume, units; may be given again",
    )
    drink.add_argument(
        "--by",
        action="append",
        metavar="NAME",
        help="the measure to move for an aim, twice at most (default: what moves the figure most)",
    )
    drink.add_argument(
        "--step",
        metavar="MEASURE",
        help="in such steps (default: 2.5 ml, or a quarter ounce for a line in ounces)",
    )
    drink.add_argument(
        "--working", action="store_true", help="show how each figure is worked out, and from what"
    )
    drink.add_argument("--json", action="store_true", help="print the figures and their working as JSON")

    drink.add_argument(
        "--history", action="store_true", help="show every version that changed a fact, from git"
    )
    drink.add_argument(
        "--to",
        metavar="DIR",
        help="with --history: write it as a private page, DIR/bar/SPEC.html, with charts",
    )


def _compare_arguments(compare: argparse.ArgumentParser) -> None:
    _files(
        compare.add_argument(
            "house_or_old",
            nargs="?",
            metavar="HOUSE",
            help="the house (default: this folder); a first word that is no house is OLD",
        )
    )
    compare.add_argument(
        "old", nargs="?", metavar="OLD", help="a revision, a tag or a day, 2026-06-20 (default: HEAD)"
    )
    compare.add_argument("new", nargs="?", metavar="NEW", help="the same (default: your working files)")
    compare.add_argument("--house", metavar="DIR", help="the house; then every word is a revision")
    compare.add_argument(
        "--staged",
        action="store_true",
        help="compare OLD with what is about to be committed",
    )
    compare.add_argument(
        "--merged",
        metavar="CHANGE",
        help="compare OLD with what merging this branch or revision into it would give",
    )
    compare.add_argument(
        "--was",
        metavar="DIR",
        dest="was_in",
        help="the house's folder in OLD, from the top of the repository (default: found by its moves)",
    )
    shown = compare.add_mutually_exclusive_group()
    shown.add_argument("--json", action="store_true", help="print the changes as JSON")
    shown.add_argument("--markdown", action="store_true", help="print them to paste in a merge request")
    compare.add_argument(
        "--fail-on",
        metavar="WHAT",
        help="exit with 1 for: allergens (whatever is marked !!), strength, problems (that stop a publish of NEW), "
        "tidy (files of NEW that are not); several with commas",
    )


def _served_arguments(served: argparse.ArgumentParser) -> None:
    served.add_argument("when", metavar="WHEN", help="a day, a month, or the version that a card carries")
    served.add_argument("--house", metavar="DIR", default=".", help="the house (default: this folder)")
    served.add_argument("--event", metavar="EVENT", help="this event alone, by its file's name")
    served.add_argument("--json", action="store_true", help="print it as JSON")


def _tidy_arguments(tidy: argparse.ArgumentParser) -> None:
    _files(
        tidy.add_argument(
            "where",
            nargs="*",
            metavar="PATH",
            help="a house, one of its folders or files, or a folder of specs alone (default: this folder)",
        )
    )
    tidy.add_argument(
        "--check", action="store_true", help="write nothing: list what is not tidy, and exit with 1"
    )
    _at(tidy)


def _start_arguments(start: argparse.ArgumentParser) -> None:
    start.add_argument(
        "folder",
        metavar="DIR",
        help="a folder that is not there yet, or is empty but for .git and editors' files",
    )


def _check_arguments(check: argparse.ArgumentParser) -> None:
    _house_or_event(check)
    _at(check)
    check.add_argument("--json", action="store_true", help="print the problems as JSON, for editors")
    check.add_argument("--strict", action="store_true", help="exit with 1 for warnings too")


def _publish_arguments(publish: argparse.ArgumentParser) -> None:
    _house_or_event(publish)
    _at(publish)
    publish.add_argument("--to", metavar="DIR", help="where to write (default: out in the house)")
    publish.add_argument(
        "--json", action="store_true", help="print what was written and replaced, or the problems, as JSON"
    )
    publish.add_argument(
        "--fail-on",
        metavar="WHAT",
        help="publish nothing and exit with 1 for: allergens (or cautions gained or lost against what was published "
        "before, or not to be compared)",
    )
    publish.add_argument(
        "--remove-gone",
        action="store_true",
        help="remove the published folders of events that the house no longer has",
    )
    publish.add_argument(
        "--was",
        metavar="NAME",
        help="the house's earlier name, where what it published elsewhere is replaced",
    )


def _preview_arguments(preview: argparse.ArgumentParser) -> None:
    _house_or_event(preview)
    preview.add_argument(
        "--port",
        type=_port,
        default=8173,
        metavar="PORT",
        help="on 127.0.0.1 (default: 8173; 0 picks a free one)",
    )


def _schema_arguments(schema: argparse.ArgumentParser) -> None:
    schema.add_argument(
        "kind",
        nargs="?",
        choices=KINDS,
        help="print this one instead of writing all",
    )
    schema.add_argument("--to", metavar="DIR", help="where to write all five (default: .schemas)")


def _help_arguments(keys: argparse.ArgumentParser) -> None:
    keys.add_argument("kind", nargs="?", choices=KINDS, help="the kind of file (default: list the kinds)")


def _completion_arguments(completion: argparse.ArgumentParser) -> None:
    completion.add_argument("shell", choices=("bash", "zsh", "tcsh"))


def _port(text: str) -> int:
    if not (text.isascii() and text.isdigit() and int(text[:6]) <= 65535):
        raise argparse.ArgumentTypeError(f'a port is a number from 0 to 65535, and this is "{text}"')
    return int(text)


_COMMANDS: tuple[tuple[str, Callable[[argparse.ArgumentParser], None], str, str], ...] = (
    (
        "start",
        _start_arguments,
        "make a small house that publishes as it stands",
        "example:\n  menugen start my-bar",
    ),
    (
        "check",
        _check_arguments,
        "tell every problem in a house, or in what one event reaches",
        "examples:\n  menugen check my-bar\n  menugen check my-bar/events/lantern-supper.yaml --json",
    ),
    (
        "publish",
        _publish_arguments,
        "write each event's site and table cards",
        (
            "examples:\n  menugen publish my-bar\n  menugen publish my-bar/events/lantern-supper.yaml --to /srv/menus\n"
            "  menugen publish my-bar --fail-on allergens --remove-gone"
        ),
    ),
    (
        "drink",
        _drink_arguments,
        "work out one drink and show the working",
        (
            "examples:\n  menugen drink specs/saltmarsh-sour.md\n"
            "  menugen drink saltmarsh-sour --house my-bar --event lantern-supper\n"
            "  menugen drink saltmarsh-sour --working\n"
            '  menugen drink saltmarsh-sour --set "lemon juice=20 ml" --set "egg white=none"\n'
            '  menugen drink saltmarsh-sour --aim "abv=12 %" --aim "sweetness=as before" --by gin '
            '--by "samphire syrup"\n'
            "  menugen drink saltmarsh-sour --at HEAD~3 --json\n"
            "  menugen drink saltmarsh-sour --history --to papers"
        ),
    ),
    (
        "preview",
        _preview_arguments,
        "show the pages on this machine, and again on every save",
        "example:\n  menugen preview my-bar",
    ),
    (
        "compare",
        _compare_arguments,
        "say what changed in a house's drinks from one revision to another",
        (
            "OLD and NEW are written as git writes a revision, or as a month (2026-06), a day\n"
            "(2026-06-20) or a time (2026-06-20T18:30): the last commit of the main line up\n"
            "to its end, in the committer's local time. What guests are told otherwise comes\n"
            "first, marked !!. A drink on a menu is compared with that event's bottles and\n"
            "rules. Notes, translations and the order of a menu are no changes.\n\n"
            "examples:\n  menugen compare my-bar          the last commit against your working files\n"
            "  menugen compare my-bar --staged\n"
            "  menugen compare my-bar 2026-06-20 HEAD --markdown\n"
            "  menugen compare origin/main --merged HEAD --fail-on allergens,strength"
        ),
    ),
    (
        "served",
        _served_arguments,
        "show what was on the menu on a day, in a month or at a revision, and what was in it",
        (
            "Hours are in the committer's local time, as an event's hours are.\n\n"
            "examples:\n  menugen served 2026-06-20\n  menugen served 2026-06\n"
            "  menugen served 7f3a2c1               the menu of a card that carries this version"
        ),
    ),
    (
        "tidy",
        _tidy_arguments,
        "put files in one order and spacing; what they say, and every comment, stays",
        (
            "examples:\n  menugen tidy my-bar\n  menugen tidy my-bar --check\n"
            "  menugen tidy my-bar/specs my-bar/events/lantern-supper.yaml"
        ),
    ),
    (
        "schema",
        _schema_arguments,
        "write the JSON Schemas that let an editor complete and check the files",
        "examples:\n  menugen schema --to my-bar/.schemas\n  menugen schema stock",
    ),
    (
        "help",
        _help_arguments,
        "list every key of a kind of file, with what it means and an example",
        "examples:\n  menugen help spec\n  menugen help stock",
    ),
    (
        "completion",
        _completion_arguments,
        "print a script that completes commands and files in your shell",
        "example:\n  menugen completion bash > ~/.local/share/bash-completion/completions/menugen",
    ),
)
"""Each command: its name, what it takes, a summary and examples."""

_LOADS: dict[str, Load] = {"drink": _drink, "completion": _completion}
"""What imports those commands that are not in a module of their name."""

_NAMES = frozenset(name for name, *_ in _COMMANDS)


def make_parser(typed: Collection[str] = _NAMES) -> argparse.ArgumentParser:
    """Return the parser of every command.

    Args:
        typed: Names of the commands that get their arguments too, which takes longer than all the rest.
    """
    parser = _Parser(
        prog="menugen",
        description="Turn a folder of drink specs, stock and events into a published drinks menu.",
        epilog="examples:\n"
        "  menugen start my-bar            a small house that publishes as it stands\n"
        "  menugen check my-bar            every problem in the house, in one go\n"
        "  menugen publish my-bar          every event's site and table cards, into my-bar/out\n"
        "  menugen drink saltmarsh-sour    one drink worked out, with its working\n",
        formatter_class=_Help,
    )
    parser.add_argument("--version", action="version", version=f"menugen {__version__}")
    commands = parser.add_subparsers(
        title="commands", metavar="COMMAND", required=True, parser_class=_CommandParser
    )
    for name, add_arguments, summary, example in _COMMANDS:
        command = commands.add_parser(
            name,
            typed=name in typed,
            help=summary,
            description=summary[0].upper() + summary[1:] + ".",
            epilog=example,
            formatter_class=_Help,
        )
        if name in typed:
            command.set_defaults(load=_LOADS.get(name) or _command(name))
            command.add_argument("--quiet", action="store_true", help="say nothing but problems")
            add_arguments(command)
    return parser


def parse(argv: Sequence[str]) -> argparse.Namespace:
    """Return what was typed; leaves with exit code 2 and a word where it is no command of ours.

    Raises:
        WrongUse: It is, but an argument says nothing.
    """
    parser = make_parser(_NAMES.intersection(argv))
    if not argv:
        parser.print_help(sys.stderr)
        parser.exit(2)
    if argv[0] not in _NAMES and not argv[0].startswith("-"):
        from menugen.cli.typed import no_command

        parser.error(no_command(argv[0], _NAMES))
    chosen = parser.parse_args(argv)
    from menugen.cli.typed import refuse_nothing_said

    refuse_nothing_said(chosen)
    return chosen
