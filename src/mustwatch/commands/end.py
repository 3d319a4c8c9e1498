"""`end`: a batch is over."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.commands.context import Context
from mustwatch.commands.parser import lowered
from mustwatch.commands.saving import batch_to_write, drafted, happened_at, save_and_tell, saving_parser

OUTCOMES = ("drunk", "given", "dumped", "vinegar")


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "end", "end a batch")
    parser.add_argument("outcome", metavar="OUTCOME", type=lowered, choices=OUTCOMES, help=", ".join(OUTCOMES))
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the end."""
    batch_to_write(context, args.tag)
    event = drafted("ended", happened_at(context, args.at), args.tag, outcome=args.outcome, note=args.note)
    return save_and_tell(context, args.tag, [event], [f"ended: {args.outcome}"], args.json)
