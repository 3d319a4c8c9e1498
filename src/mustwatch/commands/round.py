"""The full-screen daily check; also what runs with no command."""

from __future__ import annotations

import gc
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from mustwatch.commands import door
from mustwatch.commands.context import Refused

if TYPE_CHECKING:
    import argparse

    from mustwatch.commands.context import Context

SAMPLE = "sample_cellar"


def add_to(subparsers: argparse._SubParsersAction) -> None:
    """Adds the command's own arguments."""
    parser = subparsers.add_parser(
        "round",
        help="the full-screen daily check",
        description="The full-screen daily check, by keyboard; `?` lists the keys. Also with no command.",
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Opens the round. Raises Refused where there is no terminal to show it in."""
    if not all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):
        raise Refused("the round needs a terminal; `mustwatch check` prints what it would show")
    if not context.has_cellar:
        greet(context)
    _settle_size()
    # Nothing made while starting is garbage: looking for it would only hold up the first frame.
    gc.disable()
    from mustwatch.screens.look import Look

    # What refuses the cellar is said before the terminal is touched.
    look = Look(context, context.settings)
    from mustwatch.screens.app import RoundApp
    from mustwatch.screens.unsent import Unsent

    app = RoundApp(look, Unsent(context.cellar))
    status = app.play()
    if app.fault is not None and os.environ.get("MUSTWATCH_DEBUG"):
        door.say_traceback(app.fault)
    if app.last_words:
        context.err(app.last_words)
    _end(status)


HELLO = (
    "mustwatch: the daily round for a home mead maker.",
    "It keeps the readings of each batch and says which one needs what today.",
    "It warns before glass holds pressure that it was not made for.",
    "",
)


def greet(context: Context) -> None:
    """Where there is no cellar yet: says what this is, and by one key makes one or opens the invented one.

    Raises Refused where neither is wanted.
    """
    from mustwatch.commands.init import make_cellar
    from mustwatch.ledger.visible import visible

    sample = sample_cellar()
    for line in (*HELLO, f"There is no cellar yet at {visible(str(context.cellar))}."):
        context.out(line)
    context.out("m  makes one there")
    if sample:
        context.out("s  opens an invented one, to look around in")
    answer = door.asked_by_key("any other key leaves: ", *("m", "s" if sample else "m"), otherwise="left")
    if answer == "m":
        make_cellar(context)
    elif answer == "s" and sample:
        context.cellar = sample
    else:
        raise Refused("no cellar was made")


def sample_cellar() -> Path | None:
    """The invented cellar, as installed or beside the source; None where it is not there."""
    import mustwatch

    places = (Path(sys.prefix) / "share/mustwatch", Path(mustwatch.__file__ or ".").resolve().parents[2])
    return next((place / SAMPLE for place in places if (place / SAMPLE / "cellar.toml").is_file()), None)


def _end(status: int) -> NoReturn:
    """Ends the process: all is on disk, and neither a forecast under way nor a large cellar is worth a wait."""
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError):
            stream.flush()
    os._exit(status)


def _settle_size() -> None:
    """A terminal that tells no size is taken for the common one; without that the layout never comes to rest."""
    if 0 in os.get_terminal_size(sys.stdout.fileno()):
        os.environ |= {"COLUMNS": "80", "LINES": "24"}
