"""`move`: a batch or its bottles stand in another place, warmer or colder, darker or lighter."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.quantity import given, temperature_c, typed
from mustwatch.commands.saving import batch_to_write, drafted, happened_at, save_and_tell, saving_parser
from mustwatch.said.telling import told


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "move", "put it in another place: move TAG cellar --light dark --air 14C")
    parser.add_argument("place", metavar="PLACE", nargs="+", help="where it stands now")
    parser.add_argument("--light", choices=("dark", "lit"), help="whether light falls on the glass")
    parser.add_argument("--air", metavar="TEMPERATURE", help="how warm it is there, such as 14C")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the move; bottles carried into warmth are answered with what the rules say."""
    batch_to_write(context, args.tag)
    place = " ".join(args.place).strip()
    if not place:
        raise Refused("moved where? Name the place, such as: move TAG cellar")
    air = given("air", args.air)
    event = drafted(
        "moved", happened_at(context, args.at), args.tag, place=place, light=args.light,
        air_c=temperature_c(air) if air else None, note=args.note, typed=typed(air),
    )  # fmt: skip
    return save_and_tell(context, args.tag, [event], [told(event)], args.json)
