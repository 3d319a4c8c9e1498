"""`fix`: corrects an entry, or takes it back. The first entry stays in the ledger; the correction follows it."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context, Refused

if TYPE_CHECKING:
    from mustwatch.ledger.events import Event

SHORTEST_PART = 4


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "fix",
        help="correct an entry",
        description="Corrects an entry; `mustwatch show TAG --ids` names them. The first one is kept.",
        allow_abbrev=False,
    )
    parser.add_argument("id", metavar="ID", help="the entry's id, or its beginning or end (four signs or more)")
    parser.add_argument(
        "changes",
        metavar="KEY=VALUE",
        nargs="*",
        help="such as gravity.value=1.042, must_c=20, note='no foam', at='yesterday 21:00', batch=TAG",
    )
    parser.add_argument("--withdraw", action="store_true", help="take the entry back instead")
    parser.add_argument("--why", metavar="TEXT", help="the reason, kept with it")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the correction."""
    from mustwatch.commands.changes import changes_of
    from mustwatch.commands.saving import drafted, tell_outcome, writable
    from mustwatch.deeds.foresight import foreseen
    from mustwatch.ledger.events import TAG
    from mustwatch.ledger.visible import plain_json, visible

    writable(context)
    if bool(args.changes) == args.withdraw:
        raise Refused("say what to change, such as gravity.value=1.042, or --withdraw")
    target = standing(context, args.id, acts=args.withdraw)
    # An entry whose tag is none cannot be named in a correction, and must be put right all the same.
    tag = target.batch if target.batch and TAG.fullmatch(target.batch) else None
    if args.withdraw:
        act = drafted(context, "withdrew", tag, target=target.id, why=args.why)
    else:
        changes = changes_of(context.ground(target.batch), target, args.changes)
        corrected = fitting(target, changes)
        # A reason is the correction's own note; `set` holds nothing but changes.
        act = drafted(context, "amended", tag, target=target.id, set=changes, note=args.why)
    ahead = None if args.json else foreseen(context.ground(target.batch), [act])
    saved = context.append(act)[0]
    if args.json:
        context.out(plain_json({"target": target.id, "kind": act.kind, "saved": saved.id}))
        return DONE
    from mustwatch.said.dates import moment
    from mustwatch.said.telling import told_with_note

    was = visible(told_with_note(target, context.settings, context.now), limit=200)
    now = "taken back" if args.withdraw else f"now {_told(target, corrected, changes, context)}"
    context.out(f"{visible(target.batch or 'cellar')}: {target.kind} of {moment(target.at, context.now)}: {was}; {now}")
    if ahead is not None:
        tell_outcome(context, ahead)
    return DONE


def _told(before: Event, after: Event, changes: Mapping[str, Any], context: Context) -> str:
    """The entry as it stands now; its time and its batch only where they changed, and what its line does not say."""
    from mustwatch.ledger.visible import visible
    from mustwatch.said.dates import moment
    from mustwatch.said.telling import told_with_note

    was, said = (told_with_note(event, context.settings, context.now) for event in (before, after))
    moved = f", on {moment(after.at, context.now)}" if after.at != before.at else ""
    into = f", in {after.batch or 'the cellar'}" if after.batch != before.batch else ""
    same = was == said and not (moved or into)
    unsaid = f" ({', '.join(f'{path}={value}' for path, value in changes.items())})" if same else ""
    return visible(said, limit=200) + moved + visible(into) + visible(unsaid, limit=200)


def fitting(target: Event, changes: dict[str, Any]) -> Event:
    """The event as corrected. Raises Refused where the change does not fit it."""
    from mustwatch.cellar.corrections import fitted
    from mustwatch.ledger.visible import visible
    from mustwatch.said.faults import plainly

    try:
        return fitted(target, changes)
    except ValueError as error:
        raise Refused(f"not changed: {visible(plainly(str(error)))}") from None


def standing(context: Context, part: str, *, acts: bool = False) -> Event:
    """The one event an id or a part of one names, as corrected so far; acts: corrections too. Raises Refused."""
    from mustwatch.cellar.corrections import corrected
    from mustwatch.ledger.events import Amended, Withdrew
    from mustwatch.ledger.visible import visible

    shown = visible(part, limit=60)
    contents = context.ledger.read()
    if len(part) < SHORTEST_PART and all(event.id != part for event in contents.events):
        raise Refused(f"{shown} is too short to name an entry; give four signs or more of its id")
    right = corrected(contents.events)
    found = [event for event in right.events if _named(event.id, part)]
    corrections = [one for one in contents.events if isinstance(one, Amended | Withdrew) and _named(one.id, part)]
    if acts:
        found += [one for one in corrections if one.id not in right.withdrawn]
    if not found and contents.condensed:
        found = _among_all(context, part)
    if not found:
        gone = any(_named(event_id, part) for event_id in right.withdrawn)
        why = "was taken back already" if gone else "names no entry; `mustwatch events` lists them"
        raise Refused(f"{shown} {'is a correction; --withdraw takes it back' if corrections and not gone else why}")
    if len({event.id for event in found}) > 1:
        raise Refused(f"{len(found)} entries have ids with {shown}; give more of it")
    return found[0]


def _named(event_id: str, part: str) -> bool:
    return event_id.startswith(part) or event_id.endswith(part)


def _among_all(context: Context, part: str) -> list[Event]:
    """A thermometer's reading may be condensed away from what is folded; it is still in the ledger."""
    from mustwatch.ledger.codec import parse

    return [parse(line) for event_id, line in context.ledger.lines() if _named(event_id, part)]
