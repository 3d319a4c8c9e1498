"""`begin`: mixes a batch."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.batches.scales import litres
from mustwatch.commands.context import Context, Refused
from mustwatch.commands.quantity import fits, given, named_amount, typed, vessel_of, volume_l
from mustwatch.commands.saving import batch_named, drafted, happened_at, save_and_tell, saving_parser
from mustwatch.ledger.events import TAG
from mustwatch.ledger.visible import visible

INGREDIENTS = ("honey", "sugar", "juice", "fruit", "water", "spice", "acid", "other")


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "begin", "mix a batch; amounts as you write them: 1.5 kg, 3 lb, 4 l, 1 US gal")
    parser.add_argument("--name", default="", help="what you call it")
    parser.add_argument("--style", help="in words of your own")
    parser.add_argument("--volume", metavar="AMOUNT", help="of the finished must, not of the water")
    parser.add_argument("--vessel", metavar="KIND SIZE", help="such as: jug 5 l")
    for what in INGREDIENTS:
        parser.add_argument(f"--{what}", action="append", default=[], metavar="AMOUNT [NAME]")
    parser.add_argument("--target", type=float, metavar="SG", help="the start gravity you plan, such as 1.090")
    parser.add_argument("--target-end", type=float, metavar="SG", help="the end gravity you plan")
    parser.add_argument("--finish", choices=("dry", "sweet", "sparkling"))
    parser.add_argument("--from", dest="from_batch", metavar="TAG", help="the batch whose recipe is repeated")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the mixing."""
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
    target = {"sg": args.target, "final_sg": args.target_end, "finish": args.finish}
    keys["target"] = {name: value for name, value in target.items() if value is not None} or keys.get("target")
    amounts = [text for what in INGREDIENTS for text in getattr(args, what)]
    event = drafted(
        "mixed", happened_at(context, args.at), args.tag, name=args.name or args.tag, style=args.style,
        from_batch=args.from_batch, note=args.note, typed=typed(args.volume, args.vessel, *amounts), **keys,
    )  # fmt: skip
    told = f"mixed {args.tag}" + (f", {litres(keys['volume_l'])}" if "volume_l" in keys else ", volume not recorded")
    return save_and_tell(context, args.tag, [event], [told], args.json)


def _repeated(cellar: Any, tag: str) -> dict[str, Any]:
    mixed = batch_named(cellar, tag).mixed
    if mixed is None:
        raise Refused(f"{tag} has no recipe to repeat: it was never mixed")
    kept = mixed.model_dump(mode="json", exclude_none=True, exclude_unset=True)
    return {name: kept[name] for name in ("volume_l", "vessel", "ingredients", "target") if name in kept}
