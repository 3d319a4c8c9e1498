"""`close`: which closure is on, so that it is known whether gas can get out."""

from __future__ import annotations

import argparse
from typing import Any, get_args

from mustwatch.commands.context import Context
from mustwatch.commands.saving import batch_named, drafted, happened_at, save_and_tell, saving_parser
from mustwatch.ledger.events import Closure


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "close", "record the closure; a loosened cap and a tight one are two things")
    parser.add_argument("closure", metavar="CLOSURE", choices=get_args(Closure), help=", ".join(get_args(Closure)))
    parser.add_argument("--liquid", help="what stands in the airlock")
    parser.add_argument("--fit", help="how it sits")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the closure; a seal on a live ferment is answered with the danger."""
    batch_named(context.cellar_view(), args.tag)
    event = drafted(
        "closed", happened_at(context, args.at), args.tag, closure=args.closure, liquid=args.liquid, fit=args.fit,
        note=args.note,
    )  # fmt: skip
    return save_and_tell(context, args.tag, [event], [f"closed with {args.closure}"], args.json)
