"""`instrument`: a glass or meter of the cellar, what it is made for and how far it is off."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.parser import number
from mustwatch.commands.quantity import given, temperature_c, typed
from mustwatch.commands.saving import drafted, happened_at, save_and_tell, saving_parser, writable
from mustwatch.said.telling import told

KINDS = ("hydrometer", "refractometer", "thermometer", "pH meter")
HELP = "record an instrument: instrument longglass hydrometer --made-for 20C --water 1.002"
# What is farther off is a slip of the unit, or no instrument to go by.
FARTHEST = {
    "hydrometer": (0.03, "as a gravity, such as -0.002"),
    "refractometer": (5.0, "Brix"),
    "thermometer": (20.0, "degrees C"),
    "pH meter": (2.0, "pH"),
}
FARTHEST_OFF = 0.03  # a glass that is farther off in water was read on another scale


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "instrument", HELP, tag=False)
    parser.add_argument("name", metavar="NAME", help="what you call it; log takes it as by:NAME")
    parser.add_argument("what", metavar="KIND", type=kind, choices=KINDS, help=", ".join(KINDS))
    parser.add_argument("--made-for", metavar="TEMPERATURE", help="the temperature printed in it, such as 20C or 60F")
    parser.add_argument("--water", type=number, metavar="READING", help="what it read in water at that temperature")
    parser.add_argument("--offset", type=number, metavar="FIGURE", help="what is to be added to its readings")
    parser.add_argument("--division", type=number, metavar="FIGURE", help="the step between two marks, such as 0.002")
    parser.set_defaults(run=run)


def kind(text: str) -> str:
    """The kind of instrument, however it is written: Hydrometer, ph-meter."""
    plain = " ".join(text.lower().replace("-", " ").split())
    return next((one for one in KINDS if one.lower() == plain), text)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the instrument; readings that name it are corrected by it, those of the past too."""
    writable(context)
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
    if args.division is not None and not 0 < args.division <= 10:
        raise Refused(f"--division {args.division:g}: the step between two marks is above 0, such as 0.002")
    if args.water is None:
        return _believable(args)
    if args.offset is not None:
        raise Refused("--water and --offset say the same thing; give one of them")
    if args.what != "hydrometer" or abs(args.water - 1) > FARTHEST_OFF:
        raise Refused("--water is what a hydrometer reads in plain water, near 1.000, such as 1.002")
    return round(1 - args.water, 5)


def _believable(args: argparse.Namespace) -> float | None:
    """The offset as given. Raises Refused where no instrument could be so far off."""
    farthest, unit = FARTHEST[args.what]
    if args.offset is not None and abs(args.offset) > farthest:
        raise Refused(f"--offset {args.offset:g}: expected -{farthest:g} to {farthest:g} {unit}; is it the right unit?")
    return args.offset
