"""`taste`: a tasting note."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.parser import number
from mustwatch.commands.quantity import given
from mustwatch.commands.saving import batch_to_write, drafted, happened_at, save_and_tell, saving_parser
from mustwatch.said.telling import told

PARTS = ("look", "nose", "palate", "balance")


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "taste", "a tasting note")
    for part in PARTS:
        parser.add_argument(f"--{part}", metavar="WORDS")
    parser.add_argument("--score", type=score, metavar="0-10", help="out of ten: 8, 7.5 or 8/10")
    parser.add_argument("--again", choices=("yes", "no"), help="would you make it again")
    parser.set_defaults(run=run)


def score(text: str) -> float:
    """A score out of ten; the ten may be written."""
    return number(text.strip().removesuffix("/10"))


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the tasting note."""
    batch_to_write(context, args.tag)
    keys = {part: given(part, getattr(args, part)) for part in PARTS}
    again = None if args.again is None else args.again == "yes"
    if not any([*keys.values(), args.note, args.score is not None, again is not None]):
        raise Refused("an empty tasting note; give --look, --nose, --palate, --balance, --score or --note")
    event = drafted(
        "tasted", happened_at(context, args.at), args.tag, score_of_10=args.score, again=again, note=args.note, **keys
    )
    return save_and_tell(context, args.tag, [event], [told(event)], args.json)
