"""Events on their way to the disk: each gets its id, its number and its line."""

from collections.abc import Sequence
from datetime import datetime

from mustwatch.ledger.clock import next_id, ticks
from mustwatch.ledger.codec import encode
from mustwatch.ledger.crc import sealed
from mustwatch.ledger.events import Event
from mustwatch.ledger.tail import LONGEST_EVENT


def stamped_lines(
    events: Sequence[Event], now: datetime, newest: str | None, seq: int, keep_ids: bool
) -> tuple[tuple[Event, ...], bytes, str | None]:
    """The events with ids and numbers, their lines, and the newest id among all."""
    saved, lines = [], []
    for event in events:
        seq += 1
        if keep_ids and event.id:
            event_id = event.id
            if ticks(event_id) and (newest is None or event_id > newest):
                newest = event_id
        else:
            event_id = newest = next_id(newest, now)
        event, line = _sealed(event, event_id, seq)
        saved.append(event)
        lines.append(line)
    return tuple(saved), b"".join(lines), newest


def _sealed(event: Event, event_id: str, seq: int) -> tuple[Event, bytes]:
    """A copy of the event with id, number and checksum, and its line."""
    copy = event.__copy__()
    # Nobody has this copy yet, so nothing frozen changes; copying anew for each key would cost more than the line.
    copy.__dict__.update(id=event_id, seq=seq)
    copy.__pydantic_fields_set__.update(("id", "seq"))
    line = line_of(copy)
    copy.__dict__["crc"] = line[-11:-3].decode()
    return copy, line


def line_of(event: Event) -> bytes:
    """The line of an event with checksum and line end. Raises ValueError where it cannot be one."""
    line = sealed(encode(event))
    if len(line) > LONGEST_EVENT:
        raise ValueError(f"an event may be {LONGEST_EVENT >> 10} KiB long, this one is {len(line) >> 10} KiB")
    return line + b"\n"
