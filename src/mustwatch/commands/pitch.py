"""`pitch`: the yeast goes in."""

from __future__ import annotations

import argparse
import re
from typing import Any, get_args

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.parser import lowered, number
from mustwatch.commands.quantity import given, mass_g, temperature_c, typed
from mustwatch.commands.saving import batch_to_write, drafted_as, happened_at, save_and_tell, saving_parser
from mustwatch.ledger.events import Pitched, YeastClassName
from mustwatch.ledger.visible import visible
from mustwatch.said.figures import degrees
from mustwatch.said.telling import told

# 15C-24C; one scale behind both, 15-24C, will do.
_RANGE = re.compile(r"\s*(-?[\d.,]+)\s*°?([CFcf])?\s*(?:-|–|to)\s*(-?[\d.,]+\s*°?[CFcf]?)\s*")


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "pitch", "add the yeast")
    parser.add_argument("--yeast", default="yeast", metavar="NAME", help="what the packet says")
    parser.add_argument(
        "--class", dest="yeast_class", default="unknown", type=lowered, choices=get_args(YeastClassName)
    )
    parser.add_argument("--tolerance", type=number, metavar="PERCENT", help="alcohol tolerance, %% vol")
    parser.add_argument("--range", dest="bounds", metavar="LOW-HIGH", help="must temperature, such as 15C-24C")
    parser.add_argument("--amount", metavar="AMOUNT", help="such as 5 g")
    parser.add_argument("--must", metavar="TEMPERATURE", help="the must's temperature, such as 20C")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the pitching."""
    batch_to_write(context, args.tag)
    yeast: dict[str, Any] = {"label": given("yeast", args.yeast), "class": args.yeast_class}
    if args.tolerance is not None:
        yeast["tolerance_abv"] = args.tolerance
    if bounds := given("range", args.bounds):
        yeast |= _bounds(bounds)
    event = drafted_as(
        Pitched, happened_at(context, args.at), args.tag, yeast=yeast, note=args.note,
        g=mass_g(amount) if (amount := given("amount", args.amount)) else None,
        must_c=temperature_c(must) if (must := given("must", args.must)) else None,
        typed=typed(args.bounds, args.amount, args.must),
    )  # fmt: skip
    return save_and_tell(context, args.tag, [event], _told(event), args.json)


def _told(event: Pitched) -> list[str]:
    """The pitching in words: all that was understood."""
    yeast = event.yeast
    lines = [told(event)]
    lines += [f"tolerance {yeast.tolerance_abv:g} % vol"] if yeast.tolerance_abv is not None else []
    if yeast.low_c is not None and yeast.high_c is not None:
        lines.append(f"made for {degrees(yeast.low_c)} to {degrees(yeast.high_c)}")
    return lines + ([f"must {degrees(event.must_c)}"] if event.must_c is not None else [])


def _bounds(text: str) -> dict[str, float]:
    parts = _RANGE.fullmatch(text)
    if parts is None:
        raise Refused(f"range {visible(text)!r}: write it like 15C-24C")
    low, scale, high = parts.groups()
    found = {"low_c": temperature_c(low + (scale or high.lstrip("-0123456789., °"))), "high_c": temperature_c(high)}
    if found["low_c"] >= found["high_c"]:
        raise Refused(f"range {visible(text)!r}: the first temperature must be the lower one")
    return found
