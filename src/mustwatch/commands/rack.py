"""`rack`: off the lees into another vessel."""

from __future__ import annotations

import argparse
from typing import Any, get_args

from mustwatch.commands.context import Context
from mustwatch.commands.quantity import closure_named, fits, given, same_batch, typed, vessel_of, volume_l
from mustwatch.commands.saving import batch_to_write, drafted, happened_at, save_and_tell, saving_parser
from mustwatch.ledger.events import Closure
from mustwatch.said.figures import litres
from mustwatch.said.telling import told

LIFTING = (
    "Siphon it where it stands: a large glass vessel is never lifted or carried full, and a leaking one not at all."
)
LARGE_L = 10.0  # from here on full glass is too heavy for wet hands; common practice


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "rack", "rack into another vessel")
    parser.epilog = LIFTING
    parser.add_argument("--into", metavar="KIND SIZE", help="the new vessel, such as: jug 4 l")
    parser.add_argument("--volume", metavar="AMOUNT", help="what there is now")
    parser.add_argument("--lees", metavar="AMOUNT", help="what was left behind")
    parser.add_argument("--headspace", metavar="AMOUNT", help="the air above it")
    parser.add_argument("--closure", metavar="CLOSURE", help=f"what is on it now: {', '.join(get_args(Closure))}")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the racking, and the new closure with it."""
    batch = batch_to_write(context, args.tag)
    gallon, at = context.settings.gallon, happened_at(context, args.at)
    sizes = {f"{name}_l": given(name, getattr(args, name)) for name in ("volume", "lees", "headspace")}
    keys: dict[str, Any] = {name: volume_l(text, gallon) for name, text in sizes.items() if text}
    if into := given("into", args.into):
        keys["vessel"] = vessel_of(into, gallon)
    fits(keys.get("volume_l"), keys.get("vessel"))
    same_batch(keys.get("volume_l"), batch.volume_l)
    events = [drafted("racked", at, args.tag, note=args.note, typed=typed(args.into, *sizes.values()), **keys)]
    lines = [told(events[0])]
    lines += [f"{name} {litres(keys[f'{name}_l'])}" for name in ("lees", "headspace") if f"{name}_l" in keys]
    if closure := given("closure", args.closure):
        events.append(drafted("closed", at, args.tag, closure=closure_named([closure])))
        lines.append(told(events[-1]))
    status = save_and_tell(context, args.tag, events, lines, args.json)
    if not args.json and max(batch.volume_l or 0.0, batch.capacity_l or 0.0) >= LARGE_L:
        context.out(f"  {LIFTING}")
    return status
