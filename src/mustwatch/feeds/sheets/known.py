"""A sheet brought in again: which of its rows are in the ledger, which are new, which were changed since. Pure."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from mustwatch.ledger.codec import Unreadable, encode, parse
from mustwatch.ledger.drafts import stamped
from mustwatch.ledger.events import Added, Amended, Event, Noted, Read

DAY = re.compile(rb'"at":"(\d{4}-\d\d-\d\d)')
MAY_MATTER = re.compile(rb'"kind":"(?:read|noted|added|amended)"')
Moment = tuple[str | None, datetime]


@dataclass(frozen=True, slots=True)
class Sorted:
    """Places of events: those to add, those known already, and those that differ from what was brought in before."""

    new: tuple[int, ...]
    known: tuple[int, ...]
    changed: tuple[tuple[int, str], ...]


def sorted_out(events: Sequence[Event], lines: Iterable[bytes]) -> Sorted:
    """Each event against the ledger's lines.

    Known is one of which the ledger says the same, as first written or as corrected since. Changed is one at whose
    moment the ledger holds another of the same sort that no row of the file accounts for; its id is told.
    """
    here = _at_these_moments(events, lines)
    new, known = [], []
    for place, event in enumerate(events):
        match = next((one for one in here[_moment(event)] if _said(event) in one.says), None)
        if match is None:
            new.append(place)
        else:
            known.append(place)
            here[_moment(event)].remove(match)
    changed = []
    for place in new:
        left = here[_moment(events[place])]
        same = next((one for one in left if _sort(one.event) == _sort(events[place])), None)
        if same:
            changed.append((place, same.event.id))
            left.remove(same)
    gone = {place for place, _ in changed}
    return Sorted(tuple(place for place in new if place not in gone), tuple(known), tuple(changed))


@dataclass(frozen=True, slots=True)
class _Here:
    event: Event
    says: frozenset[bytes]


def _at_these_moments(events: Sequence[Event], lines: Iterable[bytes]) -> defaultdict[Moment, list[_Here]]:
    moments = {_moment(event) for event in events}
    days = _days(events)
    told: list[Event] = []
    acts: defaultdict[str, list[Amended]] = defaultdict(list)
    for line in lines:
        found = DAY.search(line)
        if not MAY_MATTER.search(line) or found is None or (found[1] not in days and b'"amended"' not in line):
            continue
        try:
            event = parse(line)
        except Unreadable:
            continue
        if isinstance(event, Amended):
            acts[event.target].append(event)
        elif _moment(event) in moments:
            told.append(event)
    here: defaultdict[Moment, list[_Here]] = defaultdict(list)
    for event in told:
        here[_moment(event)].append(_Here(event, frozenset(_versions(event, acts[event.id]))))
    return here


def _days(events: Sequence[Event]) -> set[bytes]:
    """The days on which a line of the same moment may be dated, whatever its offset."""
    days: Counter[date] = Counter(event.at.astimezone(UTC).date() for event in events)
    return {str(day + timedelta(days=off)).encode() for day in days for off in (-1, 0, 1)}


def _moment(event: Event) -> Moment:
    return event.batch, event.at.astimezone(UTC)


def _sort(event: Event) -> str:
    """What can be told apart at one moment: a gravity, another measure, a note."""
    if isinstance(event, Read):
        return "gravity" if event.gravity else "measure"
    return event.kind


def _said(event: Event) -> bytes:
    """What an event says, without what names and places it."""
    at = event.at.astimezone(UTC)
    return encode(stamped(event.model_copy(update={"at": at, "crc": None}), "", None))


def _versions(event: Event, acts: Sequence[Amended]) -> Iterable[bytes]:
    from mustwatch.ledger.drafts import amended

    yield _said(event)
    for act in acts:
        try:
            event = amended(event, act.set)
        except ValueError:
            continue
        if isinstance(event, Read | Noted | Added):
            yield _said(event)
