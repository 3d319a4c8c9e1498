"""The full-screen daily check; also what runs with no command."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from mustwatch.commands.context import DONE, Refused

if TYPE_CHECKING:
    import argparse

    from mustwatch.commands.context import Context


def add_to(subparsers: argparse._SubParsersAction) -> None:
    """Adds the command's own arguments."""
    parser = subparsers.add_parser("round", help="the full-screen daily check")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Opens the round. Raises Refused where there is no terminal to show it in."""
    if not (sys.stdout.isatty() and sys.stdin.isatty()):
        raise Refused("the round needs a terminal; `mustwatch check` prints what it would show")
    settings = context.settings
    from mustwatch.screens.app import RoundApp
    from mustwatch.screens.look import Look

    app = RoundApp(Look(context, settings), context.cellar)
    app.run()
    return app.return_code or DONE
