"""`init`: makes a cellar, the folder that holds everything."""

import argparse
from typing import Any

from mustwatch.commands.context import DONE, Context, Refused


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "init",
        help="make a cellar",
        description="Makes a cellar in the folder of --cellar, else of $MUSTWATCH_CELLAR, else your own.",
        allow_abbrev=False,
    )
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Makes the cellar; never over one that is there."""
    from mustwatch.ledger import memory
    from mustwatch.ledger.settings import DEFAULT_TEXT
    from mustwatch.ledger.store import Ledger, Unusable
    from mustwatch.ledger.visible import plain_json, visible

    if context.asked_now is not None:
        raise Refused("a cellar cannot be made in the past; leave out --now")
    try:
        Ledger.make(context.cellar, DEFAULT_TEXT)
        memory.forget(context.ledger.identity)
    except Unusable as why:
        raise Refused(visible(str(why))) from None
    if args.json:
        context.out(plain_json({"cellar": str(context.cellar)}))
    else:
        context.out(f"made a cellar at {visible(str(context.cellar))}; `mustwatch begin TAG ...` mixes a batch")
    return DONE
