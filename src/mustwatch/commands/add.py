"""`add`: what goes into a batch after the mixing."""

from __future__ import annotations

import argparse
from typing import Any, get_args

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.parser import lowered, number
from mustwatch.commands.quantity import amount_of, name_and_amount, typed
from mustwatch.commands.saving import batch_to_write, day_to_come, drafted_as, happened_at, save_and_tell, saving_parser
from mustwatch.entry.substance import kind_of
from mustwatch.ledger.events import Added, Category
from mustwatch.said.dates import day
from mustwatch.said.telling import told

MOST_NITROGEN = 1000.0  # mg a gram: nothing holds more than all of itself


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "add", "add something: add TAG nutrient 2g, add TAG 'oak chips' 8g --as oak")
    parser.add_argument("what", metavar="WHAT", help=f"a name, or one of: {', '.join(get_args(Category))}")
    parser.add_argument(
        "amount", metavar="AMOUNT", nargs="*", default=[], help="such as 2 g or 0.5 l; leave out if not known"
    )
    parser.add_argument(
        "--as", dest="category", type=lowered, choices=get_args(Category), help="what kind of thing it is"
    )
    parser.add_argument(
        "--nitrogen", type=nitrogen, metavar="MG_PER_G", help="of a nutrient, by its label: 210, or 21%%"
    )
    parser.add_argument("--taste-by", metavar="DATE", help="oak, spice, fruit: taste by then: 2026-06-01, 2 weeks")
    parser.set_defaults(run=run)


def nitrogen(text: str) -> float:
    """Nitrogen in mg a gram; a label that says per cent has ten to the one."""
    return number(text) * (10 if text.strip().endswith("%") else 1)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the addition; one without a mass counts as an unknown dose."""
    batch_to_write(context, args.tag)
    if not args.what.strip():
        raise Refused("added what? Name it, such as: add TAG nutrient 2g")
    if any(not word.strip() for word in args.amount):
        raise Refused("the amount is empty; give one such as 2 g, or leave it out if it is not known")
    what, written = name_and_amount([args.what, *args.amount], context.settings.gallon)
    category, known_nitrogen = kind_of(what)
    amount = amount_of(written, context.settings.gallon) if written is not None else {}
    if args.nitrogen is not None and not 0 <= args.nitrogen <= MOST_NITROGEN:
        raise Refused(f"--nitrogen {args.nitrogen:g}: it is in mg a gram, 0 to {MOST_NITROGEN:g}; or write 21%")
    keys: dict[str, Any] = {"g": round(amount["kg"] * 1000, 4)} if "kg" in amount else dict(amount)
    kind = args.category or category
    event = drafted_as(
        Added, happened_at(context, args.at), args.tag, what=what, category=kind,
        nitrogen_mg_per_g=args.nitrogen if args.nitrogen is not None else known_nitrogen,
        taste_by=day_to_come(context, "taste-by", args.taste_by), note=args.note, typed=typed(written), **keys,
    )  # fmt: skip
    lines = [told(event) + ("" if kind in what.lower() else f" ({kind})")]
    lines += [] if args.nitrogen is None else [f"{args.nitrogen:g} mg nitrogen a gram"]
    lines += [f"taste by {day(by, context.now)}"] if (by := event.taste_by) else []
    return save_and_tell(context, args.tag, [event], lines, args.json)
