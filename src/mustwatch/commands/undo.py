"""`undo`: takes back this device's last entry, and says which. The entry stays in the ledger, marked withdrawn."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context, Refused

if TYPE_CHECKING:
    from mustwatch.ledger.events import Event


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "undo",
        help="take back the last entry",
        description="Takes back the last entry of this device, and says which; the ledger keeps both.",
        allow_abbrev=False,
    )
    parser.add_argument("--why", metavar="TEXT", help="the reason, kept with it")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Withdraws the last event of this device that still stands."""
    from mustwatch.commands.saving import drafted, tell_outcome, writable
    from mustwatch.deeds.foresight import foreseen

    writable(context)
    last = last_standing(context)
    if last is None:
        raise Refused("nothing to take back: this device has no entry that still stands")
    act = drafted(context, "withdrew", last.batch, target=last.id, why=args.why)
    ahead = None if args.json else foreseen(context.ground(last.batch), [act])
    saved = context.append(act)[0]
    told(context, last, saved, args.json)
    if not args.json:
        tell_what_was_saved_with(context, last)
    if ahead is not None:
        tell_outcome(context, ahead)
    return DONE


def last_standing(context: Context) -> Event | None:
    """This device's newest event of a person's that is neither withdrawn nor itself a withdrawal."""
    from mustwatch.cellar.corrections import corrected
    from mustwatch.ledger.codec import Unreadable, parse
    from mustwatch.ledger.events import Withdrew

    withdrawn = corrected(context.ledger.read().events).withdrawn
    for line in context.ledger.own_lines_backwards():
        try:
            event = parse(line)
        except Unreadable:
            continue
        if event.id not in withdrawn and not isinstance(event, Withdrew) and not event.by_itself:
            return event
    return None


def tell_what_was_saved_with(context: Context, taken: Event) -> None:
    """One line of `log` may be several entries; what still stands of it is named, so that none is forgotten."""
    from mustwatch.ledger.visible import visible
    from mustwatch.said.telling import told_with_note

    other = last_standing(context)
    if other is not None and other.batch == taken.batch and _clock_of(taken.id) == _clock_of(other.id):
        said = visible(told_with_note(other, context.settings, context.now), limit=200)
        context.out(f"  saved with it and still there: {said}; `mustwatch undo` again takes it back")


def _clock_of(event_id: str) -> str:
    """The milliseconds in an id: what was saved together was stamped at once, and counts up behind them."""
    return event_id.replace("-", "")[:12]


def told(context: Context, taken: Event, saved: Event, as_json: bool) -> None:
    """Says which event was taken back."""
    from mustwatch.ledger.visible import plain_json, visible
    from mustwatch.said.dates import moment
    from mustwatch.said.telling import told_with_note

    if as_json:
        context.out(plain_json({"withdrew": taken.id, "kind": taken.kind, "batch": taken.batch, "saved": saved.id}))
    else:
        when = moment(taken.at, context.now)
        said = visible(told_with_note(taken, context.settings, context.now), limit=200)
        context.out(f"{taken.batch or 'cellar'}: took back {taken.kind} of {when}: {said} (id {taken.id})")
