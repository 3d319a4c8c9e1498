"""Events on their way to the disk: each gets its id, its number and its line."""

import re
from collections.abc import Sequence
from datetime import datetime

from mustwatch.ledger.clock import next_id, ticks
from mustwatch.ledger.crc import sealed
from mustwatch.ledger.events import Event, Unreadable, encode, parse, stamped
from mustwatch.ledger.tail import LONGEST_EVENT

SURROGATE = re.compile(rb"\\u[dD][89a-fA-F]")


def stamped_lines(
    events: Sequence[Event], now: datetime, newest: str | None, seq: int, keep_ids: bool
) -> tuple[tuple[Event, ...], bytes, str | None]:
    """The events with ids and numbers, their lines, and the newest id among all."""
    saved, lines = [], []
    for event in events:
        seq += 1
        if keep_ids and event.id:
            event = stamped(event, event.id, seq)
            if ticks(event.id) and event.id > (newest or ""):
                newest = event.id
        else:
            newest = next_id(newest, now)
            event = stamped(event, newest, seq)
        line = line_of(event)
        # A copy of a copy would cost more than the line; this one is nobody's yet.
        event.__dict__["crc"] = line[-11:-3].decode()
        saved.append(event)
        lines.append(line)
    return tuple(saved), b"".join(lines), newest


def line_of(event: Event) -> bytes:
    """The line of an event with checksum and line end. Raises ValueError where it cannot be one."""
    line = sealed(encode(event))
    if len(line) > LONGEST_EVENT:
        raise ValueError(f"an event may be {LONGEST_EVENT >> 10} KiB long, this one is {len(line) >> 10} KiB")
    if SURROGATE.search(line):
        try:
            parse(line)
        except Unreadable:
            raise ValueError("the text holds a character that is not valid Unicode") from None
    return line + b"\n"
