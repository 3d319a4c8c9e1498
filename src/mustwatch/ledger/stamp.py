"""Events on their way to the disk: each gets its id, its number and its line."""

import json
import re
from collections.abc import Sequence
from datetime import datetime

from mustwatch.ledger.clock import next_id, ticks
from mustwatch.ledger.crc import sealed
from mustwatch.ledger.events import Event, Unreadable, encode, parse
from mustwatch.ledger.tail import LONGEST_EVENT

LAST_KEYS = {"note", "crc"}
ENCODER = json.JSONEncoder(ensure_ascii=False).encode
SURROGATE = re.compile(rb"\\u[dD][89a-fA-F]")


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


def _body(event: Event) -> bytes:
    """As `encode`, several times faster: the same keys in the same order, the note last."""
    try:
        body: bytes = event.__pydantic_serializer__.to_json(
            event, by_alias=True, exclude_unset=True, exclude_none=True, exclude=LAST_KEYS
        )
    except (ValueError, TypeError):
        return encode(event)
    if not body.startswith(b'{"v":'):
        return encode(event)
    if event.note is None:
        return body
    return b'%b,"note":%b}' % (body[:-1], ENCODER(event.note).encode("utf-8", "backslashreplace"))


def line_of(event: Event) -> bytes:
    """The line of an event with checksum and line end. Raises ValueError where it cannot be one."""
    line = sealed(_body(event))
    if len(line) > LONGEST_EVENT:
        raise ValueError(f"an event may be {LONGEST_EVENT >> 10} KiB long, this one is {len(line) >> 10} KiB")
    if SURROGATE.search(line):
        try:
            parse(line)
        except Unreadable:
            raise ValueError("the text holds a character that is not valid Unicode") from None
    return line + b"\n"
