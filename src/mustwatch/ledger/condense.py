"""A thermometer's day in a few lines: up to eight readings are kept whole, of more only three.

Only `read` events that hold a temperature, and at most which probe measured it, are condensed, per batch or place,
UTC day and kind of temperature: the lowest, the highest and the last of the day stay.
"""

import re
from dataclasses import dataclass, field
from datetime import UTC, datetime

WHOLE_A_DAY = 8
BULK = re.compile(
    rb'\{"v":1,"id":"([0-9a-f-]{36})","seq":\d{1,15},"at":"(\d{4}-\d\d-\d\d)(T[^"]{5,30}?)(Z|[+-]\d\d:\d\d)",'
    rb'(?:"batch":"([a-z0-9-]{1,40})",)?"kind":"read",(?:"must_c":(-?\d{1,3}(?:\.\d{1,17})?))?'
    rb'(,?"air_c":(-?\d{1,3}(?:\.\d{1,17})?))?(?:,"place":"([^"\\]{1,60})")?'
    rb'(?:,"probe":"[a-z0-9-]{1,40}","n":\d{1,9})?(?:,"crc":"[0-9a-f]{8}")?\}\Z'
)

Reading = tuple[float, str, str, str, int, bytes]  # °C, at in UTC, id, file, line number, line
Key = tuple[str, str, str]  # batch, or place: and its name; day; which temperature


@dataclass(slots=True)
class Day:
    """The temperatures of one batch on one day: all of them, or the extremes and the last of many."""

    kept: list[Reading] = field(default_factory=list)
    count: int = 0

    def take(self, reading: Reading) -> None:
        """Add one reading; at the ninth the day is condensed."""
        self.count += 1
        if self.count <= WHOLE_A_DAY:
            self.kept.append(reading)
            return
        if self.count == WHOLE_A_DAY + 1:
            self._condense(reading)
            return
        lowest, highest, last = self.kept
        if reading[:3] < lowest[:3]:
            self.kept[0] = reading
        if reading[:3] > highest[:3]:
            self.kept[1] = reading
        if reading[1:3] > last[1:3]:
            self.kept[2] = reading

    @property
    def hidden(self) -> int:
        """How many readings were condensed away."""
        return self.count - len({reading[2] for reading in self.kept}) if self.count > WHOLE_A_DAY else 0

    def _condense(self, ninth: Reading) -> None:
        """Keep three of nine; the same reading in two files counts once, and then there are not nine yet."""
        kept = list({reading[2]: reading for reading in (*self.kept, ninth)}.values())
        self.count = len(kept)
        if self.count > WHOLE_A_DAY:
            kept = [min(kept, key=_value), max(kept, key=_value), max(kept, key=_moment)]
        self.kept = kept


def _value(reading: Reading) -> tuple[float, str, str]:
    return reading[:3]


def _moment(reading: Reading) -> tuple[str, str]:
    return reading[1:3]


def bulk(line: bytes, file: str, number: int) -> tuple[Key, Reading] | None:
    """Where a temperature reading belongs and what it says; None for any other line."""
    found = BULK.match(line) if b'"kind":"read","must_c":' in line or b'"kind":"read","air_c":' in line else None
    if found is None:
        return None
    event_id, day, clock, zone, batch, must, has_air, air, place = found.groups()
    if not (must or air) or (air and bool(must) != has_air.startswith(b",")) or (batch is None) == (place is None):
        return None
    temp_c = float(must or air)
    if not -40 <= temp_c <= 130 or (air and not -40 <= float(air) <= 130):
        return None
    if zone != b"Z" and zone != b"+00:00":
        moment = _in_utc(day + clock + zone)
        if moment is None:
            return None
        day, clock = moment[:10], moment[10:]
    which = ("both" if air else "must") if must else "air"
    at = (day + clock).decode()
    try:
        subject = batch.decode() if batch is not None else f"place: {place.decode()}"
    except UnicodeDecodeError:
        return None
    return (subject, at[:10], which), (temp_c, at, event_id.decode(), file, number, line)


def _in_utc(stamp: bytes) -> bytes | None:
    try:
        return datetime.fromisoformat(stamp.decode()).astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%f").encode()
    except (ValueError, OverflowError):
        return None
