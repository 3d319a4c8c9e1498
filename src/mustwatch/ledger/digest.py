"""What one file of events holds: its lines, the thermometers' days condensed, its troubles."""

from collections.abc import Collection
from dataclasses import dataclass, field
from datetime import UTC, datetime

from mustwatch.ledger.condense import Day, Key, bulk, match_bulk
from mustwatch.ledger.lines import Scan, sound_lines
from mustwatch.ledger.sources import Found
from mustwatch.ledger.trouble import Trouble


@dataclass(slots=True)
class Digest:
    """One file as read: `lines` are (number, line) to be taken whole, `days` what was condensed."""

    name: str
    lines: list[tuple[int, bytes]] = field(default_factory=list)
    days: dict[Key, Day] = field(default_factory=dict)
    troubles: list[Trouble] = field(default_factory=list)
    read_lines: int = 0
    read_bytes: int = 0

    @property
    def hidden(self) -> int:
        """How many readings were condensed away."""
        return sum(day.hidden for day in self.days.values())


def digest(
    source: Found,
    pins: Collection[str] = (),
    until: datetime | None = None,
    onto: Digest | None = None,
) -> Digest:
    """The digest of one file; `pins` are ids never to be condensed, `onto` an earlier digest of its start.

    until: what was read later that day is condensed apart, so that the day is whole as it stood then.
    """
    done = onto or Digest(source.name)
    scan = Scan(source.name, lines=done.read_lines, size=done.read_bytes)
    keep, days = done.lines.append, done.days
    stamp = until.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%f") if until else None
    for number, line in sound_lines(source, scan, done.read_bytes):
        found = match_bulk(line) if b'"kind":"read","' in line else None
        placed = bulk(found, number) if found else None
        if placed is None:
            keep((number, line))
            continue
        key, reading = placed
        if reading[2] in pins:
            keep((number, line))
            continue
        if stamp is not None and reading[1] > stamp:
            key = key[0], f"{key[1]} later", key[2]
        day = days.get(key)
        if day is None:
            day = days[key] = Day()
        day.take(reading)
    done.troubles.extend(scan.close())
    done.read_lines, done.read_bytes = scan.lines, scan.size
    return done
