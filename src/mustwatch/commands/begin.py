"""`begin`: mixes a batch."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.parser import lowered
from mustwatch.commands.quantity import fits, given, gravity_sg, named_amount, typed, vessel_of, volume_l
from mustwatch.commands.saving import batch_named, drafted_as, happened_at, save_and_tell, saving_parser, writable
from mustwatch.ledger.events import TAG, Mixed
from mustwatch.ledger.visible import visible
from mustwatch.said.figures import litres
from mustwatch.said.telling import told

INGREDIENTS = ("honey", "sugar", "juice", "fruit", "water", "spice", "acid", "other")


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "begin", "mix a batch; amounts as you write them: 1.5 kg, 3 lb, 4 l, 1 US gal")
    parser.add_argument("--name", default="", help="what you call it")
    parser.add_argument("--style", help="in words of your own")
    parser.add_argument("--volume", metavar="AMOUNT", help="of the finished must, not of the water")
    parser.add_argument("--vessel", metavar="KIND SIZE", help="such as: jug 5 l")
    for what in INGREDIENTS:
        parser.add_argument(f"--{what}", action="append", default=[], metavar="AMOUNT [NAME]", help=_example(what))
    parser.add_argument("--target", metavar="GRAVITY", help="the start gravity you plan: 1.090, 22Bx")
    parser.add_argument("--target-end", metavar="GRAVITY", help="the end gravity you plan")
    parser.add_argument("--finish", choices=("dry", "sweet", "sparkling"))
    parser.add_argument(
        "--from", dest="from_batch", metavar="TAG", type=lowered, help="the batch whose recipe is repeated"
    )
    parser.set_defaults(run=run)


def _example(what: str) -> str:
    return "such as: 1.3 kg heather honey; may be given more than once" if what == "honey" else "the same"


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the mixing."""
    writable(context)
    cellar = context.cellar_view()
    if not TAG.fullmatch(args.tag):
        raise Refused(f"tag {visible(args.tag, limit=40)!r}: use small letters, digits and dashes, such as heather-2")
    if args.tag in cellar.batches and cellar.batches[args.tag].mixed is not None:
        raise Refused(f"there is a batch {args.tag} already; a new one needs a tag of its own, such as {args.tag}-2")
    gallon = context.settings.gallon
    keys: dict[str, Any] = _repeated(cellar, args.from_batch) if args.from_batch else {}
    if volume := given("volume", args.volume):
        keys["volume_l"] = volume_l(volume, gallon)
    if vessel := given("vessel", args.vessel):
        keys["vessel"] = vessel_of(vessel, gallon)
    fits(keys.get("volume_l"), keys.get("vessel"))
    own = [
        {**named_amount(text, what, gallon), "category": what if what != "other" else "other"}
        for what in INGREDIENTS
        for text in getattr(args, what)
    ]
    keys["ingredients"] = own or keys.get("ingredients")
    keys["target"] = _target(args) or keys.get("target")
    amounts = [text for what in INGREDIENTS for text in getattr(args, what)]
    event = drafted_as(
        Mixed, happened_at(context, args.at), args.tag, name=args.name or args.tag, style=args.style,
        from_batch=args.from_batch, note=args.note, typed=typed(args.volume, args.vessel, *amounts), **keys,
    )  # fmt: skip
    return save_and_tell(context, args.tag, [event], _told(event), args.json)


def _target(args: argparse.Namespace) -> dict[str, Any]:
    """What is aimed at. Raises Refused where it is no gravity, or would rise."""
    start = gravity_sg("target", text) if (text := given("target", args.target)) else None
    end = gravity_sg("target-end", text) if (text := given("target-end", args.target_end)) else None
    if start is not None and end is not None and end >= start:
        raise Refused(f"--target-end {end:.3f} is not below --target {start:.3f}; which is right?")
    target = {"sg": start, "final_sg": end, "finish": args.finish}
    return {name: value for name, value in target.items() if value is not None}


def _told(event: Mixed) -> list[str]:
    """The mixing in words: all that was understood, and what is missing."""
    lines = [told(event).removesuffix(":")]
    if event.vessel.kind != "unknown":
        lines.append(event.vessel.kind + (f" {litres(size)}" if (size := event.vessel.capacity_l) else ""))
    lines += [] if event.volume_l else ["volume not recorded"]
    if aim := event.target:
        figures = [f"{sg:.3f}" for sg in (aim.sg, aim.final_sg) if sg is not None]
        lines.append(f"planned {' '.join([' to '.join(figures), aim.finish or '']).strip()}")
    return lines


def _repeated(cellar: Any, tag: str) -> dict[str, Any]:
    mixed = batch_named(cellar, tag).mixed
    if mixed is None:
        raise Refused(f"{tag} has no recipe to repeat: it was never mixed")
    kept = mixed.model_dump(mode="json", exclude_none=True, exclude_unset=True)
    return {name: kept[name] for name in ("volume_l", "vessel", "ingredients", "target") if name in kept}
