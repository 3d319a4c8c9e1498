"""`take`: bottles leave the shelf."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.saving import batch_to_write, drafted, happened_at, save_and_tell, saving_parser
from mustwatch.said.telling import told


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "take", "take bottles from the shelf")
    parser.add_argument(
        "count", metavar="COUNT", type=count, nargs="?", default=1, help="how many bottles; 1 if left out"
    )
    parser.add_argument("--why", choices=("drunk", "given", "tested", "broken"), help="drunk if left out")
    parser.add_argument("--burst", action="store_true", help="a bottle burst or a cap lifted: the lot is suspect")
    parser.set_defaults(run=run)


def count(text: str) -> int:
    """A whole number of bottles."""
    try:
        return int(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no count of bottles; write it like 3") from None


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves what was taken; more than there is left is refused."""
    batch = batch_to_write(context, args.tag)
    if args.count > batch.bottles_left:
        raise Refused(f"{args.tag} has {_bottles(batch.bottles_left)} left, {args.count} cannot be taken")
    if args.burst and args.why not in (None, "broken"):
        raise Refused(f"--burst is a broken bottle, --why says {args.why}; which is right?")
    why = "broken" if args.burst else args.why or "drunk"
    event = drafted(
        "took", happened_at(context, args.at), args.tag, count=args.count, why=why, burst=args.burst or None,
        note=args.note,
    )  # fmt: skip
    left = batch.bottles_left - args.count
    return save_and_tell(
        context,
        args.tag,
        [event],
        [f"{told(event)}, {left} left"],
        args.json,
    )


def _bottles(count: int) -> str:
    return f"{count} bottle{'' if count == 1 else 's'}"
