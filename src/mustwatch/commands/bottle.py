"""`bottle`: into bottles, with the lots, the closure and the priming on record."""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from typing import Any

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.parser import number
from mustwatch.commands.quantity import given, lot_of, mass_g, same_batch, typed
from mustwatch.commands.saving import batch_to_write, drafted, happened_at, save_and_tell, saving_parser
from mustwatch.said.telling import told

HIGHEST_BAR = 20.0  # no bottle bears as much; psi taken for bar would silence the warning of pressure


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "bottle", "bottle a batch: bottle TAG '12 x 330ml beer crown-cap' --style still")
    parser.add_argument("lots", metavar="LOT", nargs="+", help="'COUNT x SIZE BOTTLE CLOSURE'")
    parser.add_argument("--style", choices=("still", "sparkling"))
    parser.add_argument("--rating", type=number, metavar="BAR", help="what the bottles' maker allows, bar gauge")
    parser.add_argument("--priming", metavar="AMOUNT", help="priming sugar in all, such as 90 g")
    parser.add_argument("--priming-sugar", default="sucrose", metavar="NAME", help="sucrose, glucose or honey")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the bottling; a live or sweet batch in glass is answered with the danger."""
    batch = batch_to_write(context, args.tag)
    written = one_or_more(args.lots)
    lots = [lot_of(text, context.settings.gallon) for text in written]
    same_batch(sum(lot["size_ml"] * lot["count"] for lot in lots) / 1000, batch.volume_l)
    if args.rating is not None and not 0 <= args.rating <= HIGHEST_BAR:
        raise Refused(
            f"--rating {args.rating:g}: expected 0 to {HIGHEST_BAR:g} bar gauge; is it in psi? 60 psi is 4.1 bar"
        )
    if args.rating is not None:
        lots = [lot | {"rating_bar": args.rating} for lot in lots]
    priming = {"what": args.priming_sugar, "g": mass_g(sugar)} if (sugar := given("priming", args.priming)) else None
    event = drafted(
        "bottled",
        happened_at(context, args.at),
        args.tag,
        lots=lots,
        style=args.style,
        priming=priming,
        note=args.note,
        typed=typed(*written, args.priming),
    )
    lines = [told(event), *([f"bottles rated {args.rating:g} bar"] if args.rating is not None else [])]
    return save_and_tell(context, args.tag, [event], lines, args.json)


def one_or_more(words: Sequence[str]) -> list[str]:
    """The lots as they were meant: words that no quotes held together are one lot."""
    alone = len(words) > 1 and not all(re.match(r"\s*\d+\s*[x×*]\s*\S", word, re.IGNORECASE) for word in words)
    return [" ".join(words)] if alone else list(words)
