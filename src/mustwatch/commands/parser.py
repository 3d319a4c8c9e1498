"""The command line: which words lead to which command. Commands are imported only when they are asked for."""

import argparse
import os
import re
import sys
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any, NoReturn

from mustwatch.deeds.catalogue import DEEDS

# command -> (module, one line of help); the order is the order of a batch's life.
COMMANDS = {
    "round": ("round", "the full-screen daily check (also with no command)"),
    "check": ("check", "the findings, worst first"),
    "list": ("list_batches", "every batch in one line"),
    "show": ("show", "one batch: where it stands, its readings, its story"),
    "log": ("log", 'quick entry: log TAG 1.042 21C swirled "a note" @yesterday 21:00'),
    "outlook": ("outlook", "where the batches are heading, and when one will know more"),
    "ahead": ("ahead", "what falls due: today, this week, later"),
    "shelf": ("shelf", "the bottles, by batch and lot"),
    "find": ("find", "words in notes, tastings, ingredients and names"),
    "compare": ("compare", "two batches beside each other"),
    "init": ("init", "make a cellar"),
    **{name: ("act", line) for name, line in DEEDS.items() if line},
    "fix": ("fix", "correct an entry"),
    "undo": ("undo", "take back the last entry"),
    "bench": ("bench", "one calculation of the trade"),
    "rules": ("rules", "every rule, by name"),
    "explain": ("explain", "one rule's page"),
    "import": ("import_events", "bring in events or readings from a file"),
    "report": ("report", "one batch on one sheet, to print or to paste"),
    "label": ("label", "the text for a label"),
    "export": ("export", "readings, events or the shelf as CSV or JSON"),
    "listen": ("listen", "thermometers, floats and a message broker into the ledger"),
    "events": ("events", "the ledger as JSON lines"),
    "verify": ("verify", "the health of the ledger"),
    "repair": ("repair", "mend the ledger, under your eyes"),
    "backup": ("backup", "a copy that verifies itself"),
}


GLOBAL = {"--cellar": "DIR", "--now": "TIME"}


class Parser(argparse.ArgumentParser):
    """An argument parser that answers bad use with one line and exit status 2.

    A word such as -3l is a value and no option: it reaches the command, which says what is wrong with it.
    """

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self._negative_number_matcher = re.compile(r"-[\d.]")

    def _get_formatter(self) -> argparse.HelpFormatter:
        # Asked for each argument: left to find out the width, argparse would load what copies files.
        laid_out: Callable[..., argparse.HelpFormatter] = self.formatter_class
        return laid_out(self.prog, width=_columns() - 2)

    def error(self, message: str) -> NoReturn:
        """Ends the program with one line that says what is wrong and where help is."""
        from mustwatch.ledger.visible import visible

        self.exit(2, f"mustwatch: {visible(message)} (see `{self.prog} --help`)\n")

    def _print_message(self, message: str, file: Any = None) -> None:
        """What argparse itself would write, help and errors, leaves by the door of all commands."""
        from mustwatch.commands import door

        if message:
            door.say_page(message, file or sys.stderr)

    def leftover(self, words: Sequence[str]) -> NoReturn:
        """Ends the program over words that belong nowhere; a global option behind its command is told its place."""
        for word in words:
            if (name := word.partition("=")[0]) in GLOBAL:
                self.error(f"{name} goes before the command: mustwatch {name} {GLOBAL[name]} {self.prog.split()[-1]}")
        self.error(f"not understood: {' '.join(words)}")


def parse_arguments(words: Sequence[str]) -> argparse.Namespace:
    """The parsed command line; `args.run` does it."""
    parser = Parser(
        prog="mustwatch",
        description="The daily round for a home mead maker.",
        epilog=_listing(),
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--cellar", type=folder, metavar="DIR", help="the cellar's folder (default: $MUSTWATCH_CELLAR)")
    parser.add_argument("--now", type=instant, metavar="TIME", help="look at the cellar as it stood then, read-only")
    parser.add_argument("--version", action="version", version=_version())
    asked = _command_among(words)
    if asked is None:
        parser.add_argument("command", nargs="?", metavar="COMMAND", help="one of the commands below")
        args, more = parser.parse_known_args(words)
        if args.command is not None:
            parser.error(f"there is no command {args.command!r}{_near(args.command)}")
        if more:
            parser.leftover(more)
        return _with_run(args, "round")
    subparsers = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=Parser)
    module = _module(asked)
    module.add_to(subparsers, asked) if asked in DEEDS else module.add_to(subparsers)
    args, more = parser.parse_known_args(words)
    if more:
        subparsers.choices[asked].leftover(more)
    return args


def _columns() -> int:
    """The width of the terminal that help is laid out for, in cells."""
    try:
        return int(os.environ.get("COLUMNS", 0)) or os.get_terminal_size().columns or 80
    except (OSError, ValueError):
        return 80


def _near(name: str) -> str:
    from difflib import get_close_matches

    # Nobody is led to repair by a slip of the finger.
    likely = [one for one in COMMANDS if one != "repair" and one[0] == name[:1].lower()]
    near = get_close_matches(name.lower(), likely, n=1, cutoff=0.6)
    return f"; did you mean {near[0]}?" if near else ""


def _with_run(args: argparse.Namespace, name: str) -> argparse.Namespace:
    args.command = name
    args.run = _module(name).run
    return args


def _module(name: str) -> ModuleType:
    return import_module(f"mustwatch.commands.{COMMANDS[name][0]}")


def _command_among(words: Sequence[str]) -> str | None:
    """The first word that is no option and no option's value, if it is a command."""
    skip = False
    for word in words:
        if skip:
            skip = False
        elif word in GLOBAL:
            skip = True
        elif not word.startswith("-"):
            return word if word in COMMANDS else None
    return None


def instant(text: str) -> datetime:
    """A time with its offset from RFC 3339 text; a plain date means its noon in UTC."""
    from mustwatch.ledger.settings import FIRST_YEAR, LAST_YEAR

    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no time; write it like 2026-05-14T09:00:00Z") from None
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise argparse.ArgumentTypeError(f"{text!r}: the year must be {FIRST_YEAR} to {LAST_YEAR}")
    if len(text) == 10:
        return found.replace(hour=12, tzinfo=UTC)
    if found.tzinfo is None:
        raise argparse.ArgumentTypeError(f"{text!r} has no offset; end it with Z or +01:00")
    return found


def folder(text: str) -> Path:
    """The path of a folder; an empty one is a slip in a script, and not the folder one stands in."""
    if not text.strip():
        raise argparse.ArgumentTypeError("it is empty; name a folder")
    return Path(text)


def lowered(text: str) -> str:
    """A word of a fixed set, or a tag, in the small letters both are written in: keyboards begin with a capital."""
    return text.strip().lower()


def _listing() -> str:
    lines = [f"  {name:<11}{line}" for name, (_, line) in COMMANDS.items()]
    return "commands (each has its own --help):\n" + "\n".join(lines)


def _version() -> str:
    from mustwatch import __version__

    return f"mustwatch {__version__}"
