"""`add`: what goes into a batch after the mixing."""

from __future__ import annotations

import argparse
from typing import Any, get_args

from mustwatch.batches.substance import kind_of
from mustwatch.batches.telling import told
from mustwatch.commands.context import Context, Refused
from mustwatch.commands.quantity import amount_of, typed
from mustwatch.commands.saving import batch_named, drafted, happened_at, save_and_tell, saving_parser
from mustwatch.ledger.events import Category


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "add", "add something: add TAG nutrient 2g, add TAG 'oak chips' 8g --as oak")
    parser.add_argument("what", metavar="WHAT", help=f"a name, or one of: {', '.join(get_args(Category))}")
    parser.add_argument("amount", metavar="AMOUNT", nargs="?", help="such as 2 g or 0.5 l; leave out if not known")
    parser.add_argument("--as", dest="category", choices=get_args(Category), help="what kind of thing it is")
    parser.add_argument("--nitrogen", type=float, metavar="MG_PER_G", help="of a nutrient, from its label")
    parser.add_argument("--taste-by", metavar="DATE", help="oak, spice, fruit: taste by then, RFC 3339 or a date")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the addition; one without a mass counts as an unknown dose."""
    from mustwatch.commands.parser import instant

    batch_named(context.cellar_view(), args.tag)
    if not args.what.strip():
        raise Refused("added what? Name it, such as: add TAG nutrient 2g")
    category, nitrogen = kind_of(args.what)
    if args.amount is not None and not args.amount.strip():
        raise Refused("the amount is empty; give one such as 2 g, or leave it out if it is not known")
    amount = amount_of(args.amount, context.settings.gallon) if args.amount else {}
    keys: dict[str, Any] = {"g": round(amount["kg"] * 1000, 4)} if "kg" in amount else dict(amount)
    kind = args.category or category
    event = drafted(
        "added", happened_at(context, args.at), args.tag, what=args.what, category=kind,
        nitrogen_mg_per_g=args.nitrogen if args.nitrogen is not None else nitrogen,
        taste_by=_date(args.taste_by, instant) if args.taste_by else None, note=args.note,
        typed=typed(args.amount), **keys,
    )  # fmt: skip
    line = told(event) + ("" if kind in args.what.lower() else f" ({kind})")
    return save_and_tell(context, args.tag, [event], [line], args.json)


def _date(text: str, instant: Any):
    try:
        return instant(text)
    except argparse.ArgumentTypeError as error:
        raise Refused(str(error)) from None
