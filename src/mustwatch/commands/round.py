"""The full-screen daily check; also what runs with no command."""

from __future__ import annotations

import gc
import os
import sys
from typing import TYPE_CHECKING

from mustwatch.commands.context import DONE, Refused

if TYPE_CHECKING:
    import argparse

    from mustwatch.commands.context import Context
    from mustwatch.screens.ahead import Ahead
    from mustwatch.screens.look import Look
    from mustwatch.screens.round.frame import Frame


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
    if not (context.cellar / "cellar.toml").is_file():
        _ = context.ledger  # refuses, in its own words
    _settle_size()
    # Nothing made while starting is garbage: looking for it would only hold up the first frame.
    gc.disable()
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "1")
    columns = os.get_terminal_size(sys.stdout.fileno()).columns or 80
    from mustwatch.screens.ahead import begun

    ahead = begun(lambda: _frame_text(context, columns), Refused)
    from mustwatch.screens.app import RoundApp

    app = RoundApp(lambda: _first_frame(context, columns, ahead), lambda: _look(context), context.cellar)
    app.run()
    if app.refusal is not None:
        raise app.refusal
    return app.return_code or DONE


def _first_frame(context: Context, columns: int, ahead: Ahead | None) -> Frame:
    from mustwatch.screens.ahead import LookRefused
    from mustwatch.screens.round.frame import frame_of, from_json

    if ahead is not None:
        try:
            return from_json(ahead.text())
        except LookRefused as refused:
            if str(refused):
                raise Refused(str(refused)) from None
    return frame_of(_look(context), columns)


def _frame_text(context: Context, columns: int) -> str:
    from mustwatch.screens.round.frame import frame_of, to_json

    return to_json(frame_of(_look(context), columns))


def _look(context: Context) -> Look:
    from mustwatch.screens.look import Look

    return Look(context, context.settings)


def _settle_size() -> None:
    """A terminal that tells no size is taken for the common one; without that the layout never comes to rest."""
    if 0 in os.get_terminal_size(sys.stdout.fileno()):
        os.environ |= {"COLUMNS": "80", "LINES": "24"}
