"""`fix`: corrects an entry, or takes it back. The first entry stays in the ledger; the correction follows it."""

from __future__ import annotations

import argparse
import json
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context, Refused

if TYPE_CHECKING:
    from mustwatch.ledger.events import Event

SHORTEST_PART = 4


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser("fix", help="correct an entry", allow_abbrev=False)
    parser.add_argument("id", metavar="ID", help="the entry's id, or its beginning or end (four signs or more)")
    parser.add_argument("changes", metavar="KEY=VALUE", nargs="*", help="such as gravity.value=1.042, at=..., note=...")
    parser.add_argument("--withdraw", action="store_true", help="take the entry back instead")
    parser.add_argument("--why", metavar="TEXT", help="the reason, kept with it")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the correction."""
    from mustwatch.commands.saving import before_saving, drafted, outcome_of, tell_outcome
    from mustwatch.ledger.visible import plain_json, visible

    if context.read_only:
        raise Refused(f"not saved: {context.read_only}")
    if bool(args.changes) == args.withdraw:
        raise Refused("say what to change, such as gravity.value=1.042, or --withdraw")
    target = standing(context, args.id)
    if args.withdraw:
        act = drafted("withdrew", context.clock_now, target.batch, target=target.id, why=args.why)
    else:
        changes = parsed(args.changes)
        corrected = fitting(target, changes)
        # A reason is the correction's own note; `set` holds nothing but changes.
        act = drafted("amended", context.clock_now, target.batch, target=target.id, set=changes, note=args.why)
    before = None if args.json else before_saving(context)
    saved = context.append(act)[0]
    if args.json:
        context.out(plain_json({"target": target.id, "kind": act.kind, "saved": saved.id}))
        return DONE
    from mustwatch.batches.telling import told_with_note

    was = visible(told_with_note(target), limit=200)
    now = "taken back" if args.withdraw else f"now {visible(told_with_note(corrected), limit=200)}"
    context.out(f"{target.batch or 'cellar'}: {target.kind} of {target.at:%Y-%m-%d %H:%M}: {was}; {now}")
    if target.batch and before:
        tell_outcome(context, outcome_of(context, target.batch, before))
    return DONE


def parsed(words: list[str]) -> dict[str, Any]:
    """The changes by path; a value is JSON where it can be, else text. Raises Refused."""
    changes: dict[str, Any] = {}
    for word in words:
        path, sign, value = word.partition("=")
        if not sign or not path:
            raise Refused(f"{word[:60]!r} is no change; write KEY=VALUE, such as gravity.value=1.042")
        changes[path] = _value(value)
    return changes


def _value(text: str) -> Any:
    try:
        found = json.loads(text, parse_constant=lambda name: name)
    except (ValueError, RecursionError):
        return text
    return found if isinstance(found, int | float | bool | list | dict) or found is None else text


def fitting(target: Event, changes: dict[str, Any]) -> Event:
    """The event as corrected. Raises Refused where the change does not fit it."""
    from mustwatch.commands.saving import plainly
    from mustwatch.ledger.events import amended
    from mustwatch.ledger.visible import visible

    known = {field.alias or name for name, field in type(target).model_fields.items()} | set(target.model_extra or {})
    own = sorted(known - {"v", "id", "seq", "kind", "crc"})
    for path in changes:
        if path.split(".")[0] not in known:
            raise Refused(f"{visible(path, limit=40)} is nothing that a {target.kind} holds; it has: {', '.join(own)}")
    try:
        return amended(target, changes)
    except ValueError as error:
        raise Refused(f"not changed: {visible(plainly(str(error)))}") from None


def standing(context: Context, part: str) -> Event:
    """The one event an id or a part of one names, as corrected so far. Raises Refused."""
    from mustwatch.batches.fold import corrections
    from mustwatch.ledger.visible import visible

    shown = visible(part, limit=60)
    if len(part) < SHORTEST_PART:
        raise Refused(f"{shown} is too short to name an entry; give four signs or more of its id")
    contents = context.ledger.read()
    corrected, _, withdrawn, _ = corrections(contents.events)
    found = [event for event in corrected if _named(event.id, part)]
    if not found and contents.condensed:
        found = _among_all(context, part)
    if not found:
        gone = any(_named(event_id, part) for event_id in withdrawn)
        why = "was taken back already" if gone else "names no entry; `mustwatch events` lists them"
        raise Refused(f"{shown} {why}")
    if len({event.id for event in found}) > 1:
        raise Refused(f"{len(found)} entries have ids with {shown}; give more of it")
    return found[0]


def _named(event_id: str, part: str) -> bool:
    return event_id.startswith(part) or event_id.endswith(part)


def _among_all(context: Context, part: str) -> list[Event]:
    """A thermometer's reading may be condensed away from what is folded; it is still in the ledger."""
    from mustwatch.ledger.events import parse

    return [parse(line) for event_id, line in context.ledger.lines() if _named(event_id, part)]
