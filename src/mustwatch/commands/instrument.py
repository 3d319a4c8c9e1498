"""`instrument`: a glass or meter of the cellar, what it is made for and how far it is off."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.batches.telling import told
from mustwatch.commands.context import Context, Refused
from mustwatch.commands.quantity import given, temperature_c, typed
from mustwatch.commands.saving import drafted, happened_at, save_and_tell, saving_parser

KINDS = ("hydrometer", "refractometer", "thermometer", "pH meter")
HELP = "record an instrument: instrument longglass hydrometer --made-for 20C --water 1.002"
FARTHEST_OFF = 0.03  # a glass that is farther off in water was read on another scale


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "instrument", HELP, tag=False)
    parser.add_argument("name", metavar="NAME", help="what you call it; log takes it as by:NAME")
    parser.add_argument("what", metavar="KIND", choices=KINDS, help=", ".join(KINDS))
    parser.add_argument("--made-for", metavar="TEMPERATURE", help="the temperature printed in it, such as 20C or 60F")
    parser.add_argument("--water", type=float, metavar="READING", help="what it read in water at that temperature")
    parser.add_argument("--offset", type=float, metavar="FIGURE", help="what is to be added to its readings")
    parser.add_argument("--division", type=float, metavar="FIGURE", help="the step between two marks, such as 0.002")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the instrument; readings that name it are corrected by it, those of the past too."""
    context.cellar_view()
    if not args.name.strip() or len(args.name.split()) > 1:
        raise Refused("the name is one word, so that log can take it as by:NAME")
    made_for = given("made-for", args.made_for)
    event = drafted(
        "instrument", happened_at(context, args.at), None, name=args.name, what=args.what, offset=_offset(args),
        division=args.division, calibration_c=temperature_c(made_for) if made_for else None, note=args.note,
        typed=typed(made_for),
    )  # fmt: skip
    return save_and_tell(context, None, [event], [told(event)], args.json)


def _offset(args: argparse.Namespace) -> float | None:
    if args.water is None:
        return args.offset
    if args.offset is not None:
        raise Refused("--water and --offset say the same thing; give one of them")
    if args.what != "hydrometer" or abs(args.water - 1) > FARTHEST_OFF:
        raise Refused("--water is what a hydrometer reads in plain water, near 1.000, such as 1.002")
    return round(1 - args.water, 5)
