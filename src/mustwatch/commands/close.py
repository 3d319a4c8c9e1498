"""`close`: which closure is on, so that it is known whether gas can get out."""

from __future__ import annotations

import argparse
from typing import Any, get_args

from mustwatch.commands.context import Context
from mustwatch.commands.quantity import closure_named, given
from mustwatch.commands.saving import batch_to_write, drafted_as, happened_at, save_and_tell, saving_parser
from mustwatch.ledger.events import Closed, Closure
from mustwatch.said.telling import told


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "close", "record the closure; a loosened cap and a tight one are two things")
    parser.add_argument("closure", metavar="CLOSURE", nargs="+", help=", ".join(get_args(Closure)))
    parser.add_argument("--liquid", help="what stands in the airlock")
    parser.add_argument("--fit", help="how it sits")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the closure; a seal on a live ferment is answered with the danger."""
    batch_to_write(context, args.tag)
    closure = closure_named(args.closure)
    event = drafted_as(
        Closed, happened_at(context, args.at), args.tag, closure=closure, liquid=given("liquid", args.liquid),
        fit=given("fit", args.fit), note=args.note,
    )  # fmt: skip
    lines = [told(event), *([f"fit: {event.fit}"] if event.fit else [])]
    return save_and_tell(context, args.tag, [event], lines, args.json)
