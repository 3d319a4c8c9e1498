"""All files of a cellar read into one story: merged, ordered, freed of doubles, the thermometers' days condensed."""

import gc
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from mustwatch.ledger.codec import Newer, Unreadable, parse
from mustwatch.ledger.condense import Day, Key, bulk
from mustwatch.ledger.events import Amended, Event, Withdrew
from mustwatch.ledger.lines import Scan, sound_lines
from mustwatch.ledger.merge import once
from mustwatch.ledger.sources import Found, kept_aside, sources
from mustwatch.ledger.trouble import Contents, Trouble, excerpt

LARGE = 20_000
_left_be = False
Entry = tuple[str, str, bytes, str, int, Event]  # id, device, line, file, line number, event


def contents(cellar: Path, until: datetime | None = None) -> Contents:
    """Everything that can be read of a cellar. Writes nothing there.

    until: a thermometer's readings later that day are condensed apart, so that the day is whole as it stood then.
    """
    found, troubles = sources(cellar)
    with without_collector():
        story = _Story(found, until)
        if pins := story.asks_for():
            story = _Story(found, until, pins)
        events = tuple(entry[5] for entry in once(sorted(story.entries), story.troubles))
        _leave_be(len(events))
    troubles = [*troubles, *story.troubles, *kept_aside(cellar)]
    return Contents(events, tuple(troubles), story.read_only, story.hidden)


@contextmanager
def without_collector() -> Iterator[None]:
    """Many small objects and no garbage: the collector would only look at them again and again."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _leave_be(count: int) -> None:
    """Take a large cellar's events out of the collector's rounds, once a process: they stay and form no rings."""
    global _left_be
    if count >= LARGE and not _left_be:
        _left_be = True
        gc.freeze()


class _Story:
    """What the files of a cellar tell, on its way to one order; readings with the ids of `pins` stay as they are."""

    def __init__(self, found: list[Found], until: datetime | None, pins: Collection[str] = ()) -> None:
        self.troubles: list[Trouble] = []
        self.entries: list[Entry] = []
        self.read_only: str | None = None
        self._until = until.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%f") if until else "~"
        self._days: dict[Key, Day] = {}
        for source in found:
            self._read(source, pins)
        devices = {source.name: source.device or source.name for source in found}
        for day in self._days.values():
            for _, _, _, file, number, line in {reading[2]: reading for reading in day.kept}.values():
                self._take(devices[file], file, number, line)
        self.hidden = sum(day.hidden for day in self._days.values())

    def _read(self, source: Found, pins: Collection[str]) -> None:
        scan, name, device, days = Scan(source.name), source.name, source.device or source.name, self._days
        for number, line in sound_lines(source, scan):
            placed = bulk(line, name, number)
            if placed is None or placed[1][2] in pins:
                self._take(device, name, number, line)
                continue
            key, reading = placed
            if reading[1] > self._until:
                key = key[0], f"{key[1]} later", key[2]
            if key not in days:
                days[key] = Day()
            days[key].take(reading)
        self.troubles.extend(scan.close())

    def _take(self, device: str, file: str, number: int, line: bytes) -> None:
        try:
            event = parse(line)
        except Newer as why:
            self.read_only = f"a newer mustwatch wrote format {why.version} here; this one can only read it"
            self.troubles.append(Trouble(file, number, str(why), "newer", False, excerpt(line)))
        except Unreadable as why:
            self.troubles.append(Trouble(file, number, f"left out: {why}", "damaged", text=excerpt(line)))
        else:
            self.entries.append((event.id, device, line, file, number, event))

    def asks_for(self) -> frozenset[str]:
        """The ids that corrections point at, where one of them was condensed or may have been; else none."""
        if not self.hidden:
            return frozenset()
        targets = {entry[5].target for entry in self.entries if isinstance(entry[5], Amended | Withdrew)}
        squeezed = {reading[2] for day in self._days.values() if day.hidden for reading in day.kept}
        there = {entry[0] for entry in self.entries} - squeezed
        return frozenset() if targets <= there else frozenset(targets)
