"""A hybrid clock: ids that rise on one device whatever its wall clock does."""

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from functools import cache

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
MILLISECOND = timedelta(milliseconds=1)
LAST_MS = (datetime(9999, 12, 31, tzinfo=UTC) - EPOCH) // MILLISECOND
COUNTER_TOP = 0xFFF
SHAPE = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}\Z")


@cache
def chance() -> Callable[[int], int]:
    """So many random bits, from a source that the system seeds once.

    Asking the system anew for every event would take longer than all the rest of an id.
    """
    from random import Random

    return Random().getrandbits


def next_id(last_id: str | None, now: datetime, random_bits: Callable[[int], int] | None = None) -> str:
    """A UUIDv7 (RFC 9562) that sorts after `last_id`.

    The time in it is `now`, or the time of `last_id` where the clock stands still or has stepped
    back; the 12 bits after the version count up inside one millisecond. An id that is no UUIDv7, or
    is stamped after the year 9999, is not followed.

    >>> first = next_id(None, datetime(2026, 1, 1, tzinfo=UTC))
    >>> first < next_id(first, datetime(1970, 1, 1, tzinfo=UTC))
    True
    """
    random_bits = random_bits or chance()
    stamp_ms = max(0, int(now.timestamp() * 1000))
    last = ticks(last_id)
    if last is None or stamp_ms > last[0]:
        return _formed(stamp_ms, random_bits(11), random_bits(62))
    stamp_ms, counter = last
    if counter >= COUNTER_TOP:
        return _formed(stamp_ms + 1, 0, random_bits(62))
    return _formed(stamp_ms, counter + 1, random_bits(62))


def ticks(event_id: str | None) -> tuple[int, int] | None:
    """The milliseconds since 1970 and the counter inside an id, or None where it has no usable clock."""
    if not event_id or not SHAPE.match(event_id):
        return None
    stamp_ms = int(event_id[:8] + event_id[9:13], 16)
    return (stamp_ms, int(event_id[15:18], 16)) if stamp_ms <= LAST_MS else None


def time_of(event_id: str) -> datetime | None:
    """The moment an id was stamped (UTC), or None where the id carries none.

    >>> time_of("019b7712-8400-7000-8000-000000000000").year
    2026
    """
    found = ticks(event_id)
    return EPOCH + found[0] * MILLISECOND if found else None


def _formed(stamp_ms: int, counter: int, rest: int) -> str:
    text = f"{stamp_ms << 80 | 7 << 76 | counter << 64 | 2 << 62 | rest:032x}"
    return f"{text[:8]}-{text[8:12]}-{text[12:16]}-{text[16:20]}-{text[20:]}"
