"""`repair`: mends the ledger under your eyes. Says what it will do, asks, and keeps every damaged byte."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from mustwatch.commands import door
from mustwatch.commands.context import DONE, FOUND, Context, Refused

if TYPE_CHECKING:
    from mustwatch.ledger.repair import Mend
    from mustwatch.ledger.trouble import Trouble


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "repair",
        help="mend the ledger, under your eyes",
        description="Says what it will mend, asks before each, and keeps every damaged byte in the folder aside.",
        allow_abbrev=False,
    )
    parser.add_argument("--yes", action="store_true", help="do everything listed without asking")
    parser.add_argument("--all", action="store_true", help="also files of other devices: only where a device is gone")
    parser.add_argument("--drop", metavar="FILE:LINE", help="set one line of a file aside, and nothing else")
    parser.add_argument("--json", action="store_true", help="one JSON document: what could be done, or was")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Lists what can be mended and does what is agreed to; 1 where something was left undone."""
    from mustwatch.ledger.visible import plain_json, visible

    if why := context.read_only:
        raise Refused(f"not repaired: {why}")
    plans = planned(args, context)
    before = losses(context) if plans else []
    done: list[dict[str, Any]] = []
    for number, mend in enumerate(plans, 1):
        if not args.json:
            context.out(f"{number}/{len(plans)}  {visible(mend.file)}: {mend.says}")
            if mend.shows:
                context.out(f"   it holds: {visible(mend.shows, limit=240)}")
        agreed = args.yes or (not args.json and asked(context))
        done.append(
            {"file": mend.file, "mend": mend.what, "says": mend.says, "done": act(context, mend) if agreed else None}
        )
        if agreed and not args.json:
            context.out(f"   done: {done[-1]['done']}")
    if any(each["done"] for each in done):
        know(context, before)
    if args.json:
        context.out(plain_json({"mends": done}))
    elif not plans:
        context.out("nothing to mend in the files this machine writes")
    leave_word(context, args.all)
    return FOUND if any(each["done"] is None for each in done) else DONE


def losses(context: Context) -> list[Trouble]:
    """What was seen in the files and is there no more."""
    from mustwatch.ledger.events import Witnessed
    from mustwatch.ledger.memory import GONE

    contents = context.contents()
    notes = [event for event in contents.events if isinstance(event, Witnessed)]
    return [each for each in context.ledger.missing(notes, contents.troubles) if each.kind in GONE]


def know(context: Context, before: Sequence[Trouble]) -> None:
    """Notes that what a repair set aside under its user's eyes is known to be gone; no loss of before is."""
    from mustwatch.ledger.memory import seen_in
    from mustwatch.ledger.witness import accepting

    lost = [each for each in losses(context) if each not in before]
    if event := accepting(lost, seen_in(context.cellar), context.clock_now):
        context.append(event)


def planned(args: argparse.Namespace, context: Context) -> list[Mend]:
    """The mends that were asked for. Raises Refused."""
    from mustwatch.ledger.store import Unusable
    from mustwatch.ledger.visible import visible

    if not args.drop:
        return context.ledger.mends(args.all)
    file, _, line = args.drop.rpartition(":")
    if not line.isascii() or not line.isdigit() or not file:
        raise Refused("--drop takes FILE:LINE as `verify` prints them")
    try:
        return [context.ledger.dropping(file, int(line), args.all)]
    except Unusable as why:
        raise Refused(visible(str(why))) from None


def asked(context: Context) -> bool:
    """Whether the user agrees to one mend; without a terminal nobody can."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        context.out("   not done: run it in a terminal, or with --yes")
        return False
    return door.asked("   do this? [y/N] ") in ("y", "yes")


def act(context: Context, mend: Mend) -> str:
    """What was done. Raises Refused where the files changed meanwhile."""
    from mustwatch.ledger.files import plain
    from mustwatch.ledger.store import NotSaved, Unusable
    from mustwatch.ledger.visible import visible

    try:
        return visible(context.ledger.mend(mend, context.clock_now))
    except Unusable as why:
        raise Refused(visible(str(why))) from None
    except NotSaved:
        raise
    except OSError as error:
        raise Refused(f"not repaired: {visible(plain(error))}") from None


def leave_word(context: Context, everything: bool) -> None:
    """What this machine should not mend by itself."""
    from mustwatch.ledger.visible import visible

    if not everything:
        for name in context.ledger.damaged_elsewhere():
            context.err(f"{visible(name)} is damaged and another device's: repair it there, or here with --all")
