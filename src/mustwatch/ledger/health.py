"""The health of a cellar: every line of every file looked at, every doubt told."""

import time
from collections import defaultdict
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

from mustwatch.ledger.clock import ticks, time_of
from mustwatch.ledger.codec import Newer, Unreadable, parse
from mustwatch.ledger.device import Identity
from mustwatch.ledger.events import Event
from mustwatch.ledger.lines import Scan, id_of, sound_lines
from mustwatch.ledger.merge import ordered_lines
from mustwatch.ledger.sources import LINKED, UNLINK, Found, kept_aside, lines_set_aside, sources
from mustwatch.ledger.tail import SEQ
from mustwatch.ledger.trouble import Trouble, as_synced

CLOCK_DOUBT = timedelta(days=1)
WRITE_TAKES_S = 0.2


@dataclass(frozen=True, slots=True)
class FileHealth:
    """One file of events: how many sound events it holds, and whether this machine writes it."""

    name: str
    events: int
    bytes: int
    ours: bool


@dataclass(frozen=True, slots=True)
class Health:
    """What `verify` tells. events: how many different ones the cellar holds."""

    files: tuple[FileHealth, ...]
    troubles: tuple[Trouble, ...]
    events: int

    @property
    def sound(self) -> bool:
        """True where nothing may be missing, wrong, set aside or in conflict."""
        return not any(trouble.fatal for trouble in self.troubles)


def health(cellar: Path, identity: Identity, now: datetime) -> Health:
    """The state of every file of a cellar. Reads everything, writes nothing."""
    found, troubles = sources(cellar)
    files = []
    for source in found:
        if source.state.st_nlink > 1 and source.device and identity.ours(source.device):
            troubles.append(Trouble(source.name, None, f"{LINKED}; nothing is written to it", "special", back=UNLINK))
        walk = _walked(source, now, lines_set_aside(cellar, source.device))
        troubles.extend(as_synced(walk.scan.close(), identity.ours))
        device = identity.device()
        ours = not source.copy and source.device == device
        files.append(FileHealth(source.name, walk.events, source.state.st_size, ours))
    doubles: list[Trouble] = []
    events = sum(1 for _ in ordered_lines(cellar, doubles))
    troubles.extend(trouble for trouble in doubles if trouble.kind == "twice")
    return Health(tuple(files), (*troubles, *kept_aside(cellar)), events)


def _walked(source: Found, now: datetime, set_aside: int) -> "_Walk":
    """A walk over a file; a torn end is looked at twice, for it may be a write just under way."""
    walk = _Walk(source, now, set_aside)
    if any(trouble.kind == "torn" for trouble in walk.scan.troubles):
        time.sleep(WRITE_TAKES_S)
        walk = _Walk(source, now, set_aside)
    return walk


@dataclass(slots=True)
class _Walk:
    """One file, line by line: can it be read, are its numbers whole, was its clock right?"""

    source: Found
    now: datetime
    set_aside: int
    scan: Scan = field(init=False)
    events: int = 0
    _highest: int = 0
    _line: int = 0
    _bad: int = 0
    _last: tuple[int, int] | None = None
    _ahead: int = 0
    _behind: int = 0
    _again: set[int] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.scan = Scan(self.source.name)
        for number, line in sound_lines(self.source, self.scan):
            self._bad += number - self._line - 1
            self._line = number
            event = self._read(number, line)
            if event is not None:
                self.events += 1
                self._clock(event)
                if not self.source.copy and event.seq is not None:
                    self._number(number, event.seq)
        self._tell_clock()
        self._tell_numbers()

    def _read(self, number: int, line: bytes) -> Event | None:
        try:
            return parse(line)
        except Newer as why:
            self.events += 1
            self.scan.report(number, f"{why}; the cellar is read-only", "newer", line, fatal=False)
        except Unreadable as why:
            self.scan.report(number, f"left out: {why}", "damaged", line)
        self._bad += 1
        return None

    def _number(self, line: int, seq: int) -> None:
        """Numbers of one device rise by one; bad lines before a gap explain as many missing ones."""
        if seq <= self._highest:
            self._again.add(seq)
            return
        missing = seq - self._highest - 1
        if missing > self._bad:
            first = self._highest + 1
            span = f"number {first}" if missing == 1 else f"numbers {first} to {seq - 1}"
            known = missing <= self._bad + self.set_aside
            why = "set aside by a repair" if known else "missing"
            self.scan.report(line, f"{span} of this device {why} before this line", "gap", fatal=not known)
            self.set_aside -= missing - self._bad if known else 0
        self._highest, self._bad = seq, 0

    def _clock(self, event: Event) -> None:
        """An id that only ticks on from the one before was made by a clock that had stepped back."""
        tick = ticks(event.id)
        stamped = time_of(event.id)
        if tick is None or stamped is None:
            return
        if stamped > self.now + CLOCK_DOUBT:
            self._ahead += 1
        elif self._last and tick == (self._last[0], self._last[1] + 1) and stamped - event.at > CLOCK_DOUBT:
            self._behind += 1
        self._last = tick

    def _tell_clock(self) -> None:
        for count, words in ((self._ahead, "ahead of this one"), (self._behind, "behind its own earlier entries")):
            if count:
                what = f"{count} events written while that device's clock was {words}; their order stands"
                self.scan.report(None, what, "clock", fatal=False)

    def _tell_numbers(self) -> None:
        """The same number on two ids: two machines wrote as one device."""
        if not self._again:
            return
        ids: dict[int, set[str]] = defaultdict(set)
        for _, line in sound_lines(self.source, Scan(self.source.name)):
            seq = SEQ.search(line)
            if seq and int(seq[1]) in self._again:
                ids[int(seq[1])].add(id_of(line))
        clashes = sorted(seq for seq, names in ids.items() if len(names) > 1)
        if clashes:
            what = f"{len(clashes)} numbers stand on two events each (first: {clashes[0]}): two machines wrote as one"
            self.scan.report(None, what, "clash")
