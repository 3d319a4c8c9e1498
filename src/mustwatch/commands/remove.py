"""`remove`: what steeped in a batch is taken out again: fruit, oak, spice."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.saving import batch_to_write, drafted, happened_at, save_and_tell, saving_parser


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "remove", "take out what steeped: remove TAG fruit, remove TAG 'oak chips'")
    parser.add_argument("what", metavar="WHAT", nargs="+", help="as it was named when it went in, or fruit, oak, spice")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves it."""
    batch_to_write(context, args.tag)
    what = " ".join(args.what).strip()
    if not what:
        raise Refused("took out what? Name it, such as: remove TAG fruit")
    event = drafted("removed", happened_at(context, args.at), args.tag, what=what, note=args.note)
    return save_and_tell(context, args.tag, [event], [f"took out {what}"], args.json)
