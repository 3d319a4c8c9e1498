"""Corrections: entries as amended or without those taken back, and what of it changes nothing."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from mustwatch.ledger.drafts import amended
from mustwatch.ledger.events import Amended, Event, UnknownKind, Withdrew

FIXED = {"v", "id", "seq", "kind", "crc"}


class Refusal(NamedTuple):
    """A correction that changes nothing, or not all it names. target: what it points at, None where that is not here;
    why: the fault in the format's words."""

    act: Amended | Withdrew
    target: Event | None
    why: str


class Corrected(NamedTuple):
    """events: as they stand, in ledger order; acts: id of an amended one -> ids of its corrections;
    withdrawn: ids of those taken back."""

    events: Sequence[Event]
    acts: Mapping[str, str]
    withdrawn: frozenset[str]
    refused: tuple[Refusal, ...] = ()


def corrected(events: Sequence[Event]) -> Corrected:
    """The events as they stand after every correction, whenever it was written.

    Corrections apply in ledger order, wherever their target stands; taking back a correction undoes it.
    """
    acts = [event for event in events if isinstance(event, Amended | Withdrew)]
    if not acts:
        return Corrected(events, {}, frozenset())
    withdrawn: set[str] = set()
    # The latest act is looked at first: an act that was itself withdrawn later has no say.
    for act in reversed(acts):
        if isinstance(act, Withdrew) and act.id not in withdrawn:
            withdrawn.add(act.target)
    standing = [act for act in acts if act.id not in withdrawn]
    changes: dict[str, list[Amended]] = {}
    for act in standing:
        if isinstance(act, Amended):
            changes.setdefault(act.target, []).append(act)
    refused = _pointing_nowhere(events, standing)
    result = []
    for event in events:
        if event.id not in withdrawn and not isinstance(event, Amended | Withdrew):
            for act in changes.get(event.id, ()):
                event = _amended(event, act, refused)
            result.append(event)
    touched = {target: "+".join(act.id for act in its) for target, its in changes.items()}
    return Corrected(result, touched, frozenset(withdrawn), tuple(refused))


def _pointing_nowhere(events: Sequence[Event], standing: Sequence[Amended | Withdrew]) -> list[Refusal]:
    there = {event.id for event in events}
    again = {act.id for act in standing}
    lost = [Refusal(act, None, "the entry it points at is not here") for act in standing if act.target not in there]
    return lost + [
        Refusal(act, None, "it points at a correction, which can only be taken back")
        for act in standing
        if isinstance(act, Amended) and act.target in again
    ]


def _amended(event: Event, act: Amended, refused: list[Refusal]) -> Event:
    try:
        after = amended(event, act.set)
    except ValueError as error:
        refused.append(Refusal(act, event, str(error)))
        return event
    if why := _unread(event, after, act.set):
        refused.append(Refusal(act, event, why))
    return after


def fitted(event: Event, changes: Mapping[str, Any]) -> Event:
    """The event as corrected. Raises ValueError with one line where a change does not fit it or nothing reads it."""
    after = amended(event, changes)
    if why := _unread(event, after, changes):
        raise ValueError(why)
    return after


def _unread(before: Event, after: Event, changes: Mapping[str, Any]) -> str:
    """Which of these paths nothing reads in this event, in one line; empty where the format knows them all."""
    if isinstance(before, UnknownKind):
        return ""
    kept = before.model_extra or {}
    for path in changes:
        first, *rest = path.split(".")
        if first not in kept and not _has_place(after, [first, *rest]):
            own = sorted({field.alias or name for name, field in type(before).model_fields.items()} - FIXED)
            return f"{path} is nothing that a {before.kind} holds; it has {', '.join(own)}"
    return ""


def _has_place(part: Any, path: Sequence[str]) -> bool:
    for step in path:
        if isinstance(part, tuple | list):
            part = part[int(step)]
            continue
        fields = getattr(type(part), "model_fields", None)
        if fields is None:
            return True
        name = next((one for one, field in fields.items() if step in (one, field.alias)), None)
        if name is None:
            return False
        part = getattr(part, name)
    return True
