"""Events that come with ids of their own: taken in once, never twice, never over another."""

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from mustwatch.ledger.codec import Newer, Unreadable, parse
from mustwatch.ledger.crc import content
from mustwatch.ledger.events import Event
from mustwatch.ledger.lines import Scan, id_of, sound_lines
from mustwatch.ledger.merge import ordered_lines
from mustwatch.ledger.sources import sources
from mustwatch.ledger.stamp import line_of
from mustwatch.ledger.trouble import Unusable
from mustwatch.ledger.writer import Writer

NAMED = re.compile(rb'"id":"[!-~]{1,64}?"')


@dataclass(frozen=True, slots=True)
class Taken:
    """What came of an import: the events as saved, and how many were in the ledger already."""

    added: tuple[Event, ...]
    known: int


class Clash(ValueError):
    """Events whose id stands for another event already. positions: their places in what was given, from 0."""

    def __init__(self, positions: Sequence[int]) -> None:
        super().__init__("the id of an event in the ledger, but not the same event")
        self.positions = tuple(positions)


def taken(cellar: Path, writer: Writer, events: Sequence[Event], now: datetime) -> Taken:
    """Add the events that are not in the ledger yet; those without an id get one.

    An event without an id is in the ledger where one says the same of the same moment.
    Raises Clash where an id stands for something else, and as appending does: all or nothing.
    """
    there = _there(cellar, events)
    fresh: list[Event] = []
    clashes: list[int] = []
    for position, event in enumerate(events):
        told = content(line_of(event).rstrip())
        kept = there[event.id or told]
        if not kept:
            fresh.append(event)
            if event.id:
                kept.add(told)
        elif told not in kept:
            clashes.append(position)
    if clashes:
        raise Clash(clashes)
    return Taken(writer.append(fresh, now, keep_ids=True), len(events) - len(fresh))


def _there(cellar: Path, events: Sequence[Event]) -> defaultdict[str | bytes, set[bytes]]:
    """What the ledger says under each id, and which events without an id it has; one pass over its lines."""
    there: defaultdict[str | bytes, set[bytes]] = defaultdict(set)
    ids = {event.id for event in events if event.id}
    nameless = {content(line_of(event).rstrip()) for event in events if not event.id}
    if ids or nameless:
        for event_id, line in ordered_lines(cellar, []):
            if event_id in ids:
                there[event_id].add(_normal(line))
            if nameless and (bare := NAMED.sub(b'"id":""', content(line), count=1)) in nameless:
                there[bare].add(bare)
    return there


def _normal(line: bytes) -> bytes:
    """The content of a line as this program would write it."""
    try:
        return content(line_of(parse(line)).rstrip())
    except (Unreadable, ValueError):
        return content(line)


def only_in_copy(cellar: Path, name: str) -> list[Event]:
    """The events of a copy that stand in no other file. Raises Unusable where it holds a newer format."""
    found = sources(cellar)[0]
    copy = next((source for source in found if source.name == name), None)
    if copy is None:
        raise Unusable(f"{name} is not there any more")
    mine = {(id_of(line), content(line)): line for _, line in sound_lines(copy, Scan(name))}
    for other in found:
        if other.name != name:
            for _, line in sound_lines(other, Scan(other.name)):
                mine.pop((id_of(line), content(line)), None)
    return _events(mine.values(), name)


def _events(lines: Iterable[bytes], name: str) -> list[Event]:
    events = []
    for line in lines:
        try:
            events.append(parse(line))
        except Newer:
            raise Unusable(f"{name} holds events of a newer mustwatch; mend it with that one") from None
        except Unreadable:
            continue
    return events
