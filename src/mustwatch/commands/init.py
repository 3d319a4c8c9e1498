"""`init`: makes a cellar, the folder that holds everything."""

import argparse
import sys
from collections.abc import Sequence
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
    parser.add_argument("--yes", action="store_true", help="also in a folder that holds other things, without asking")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Makes the cellar; never over one that is there."""
    from mustwatch.ledger.visible import plain_json, visible

    make_cellar(context, asks=not args.yes, can_ask=not args.json)
    if args.json:
        context.out(plain_json({"cellar": str(context.cellar)}))
    else:
        context.out(f"made a cellar at {visible(str(context.cellar))}; `mustwatch begin TAG ...` mixes a batch")
    return DONE


def make_cellar(context: Context, *, asks: bool = True, can_ask: bool = True) -> None:
    """Makes the cellar on disk. asks: in a folder that holds other things it is asked first; can_ask: whether a
    question may stand on standard output. Raises Refused, NotSaved."""
    from mustwatch.ledger import memory
    from mustwatch.ledger.settings import DEFAULT_TEXT
    from mustwatch.ledger.store import Ledger, Unusable
    from mustwatch.ledger.visible import visible

    if context.asked_now is not None:
        raise Refused("a cellar cannot be made in the past; leave out --now")
    if asks:
        ask_of_others(context, Ledger(context.cellar).strangers(), can_ask)
    try:
        Ledger.make(context.cellar, DEFAULT_TEXT)
        memory.forget(context.ledger.identity)
    except Unusable as why:
        raise Refused(visible(str(why))) from None


def ask_of_others(context: Context, names: Sequence[str], can_ask: bool) -> None:
    """Nothing, where the folder is empty, is a cellar already or may be shared. Raises Refused."""
    from mustwatch.commands.repair import asked
    from mustwatch.ledger.visible import visible

    if not names or (context.cellar / "cellar.toml").exists() or (context.cellar / "events").exists():
        return
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    listed = ", ".join(visible(name, limit=40) for name in names[:3])
    says = f"{visible(str(context.cellar))} holds other things: {listed}{more}"
    if not can_ask or not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise Refused(f"{says} (no cellar was made; --yes makes it there all the same)")
    context.out(says)
    if not asked(context):
        raise Refused("no cellar was made")
