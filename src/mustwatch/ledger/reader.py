"""All files of a cellar read into one story: merged, ordered, freed of doubles."""

import gc
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from pydantic import ValidationError

from mustwatch.ledger.aside import kept_aside
from mustwatch.ledger.cache import Cache
from mustwatch.ledger.condense import Day, Key
from mustwatch.ledger.crc import content
from mustwatch.ledger.digest import Digest, digest
from mustwatch.ledger.events import FORMAT_VERSION, MODELS, Amended, Event, Unreadable, Withdrew, parse
from mustwatch.ledger.sources import Found, sources
from mustwatch.ledger.tail import VERSION
from mustwatch.ledger.trouble import Contents, Source, Trouble

# The first "kind" of a line is nearly always the event's own; where it is not, the model refuses the line.
READERS = {name.encode(): model.__pydantic_validator__.validate_json for name, model in MODELS.items()}
THIS_FORMAT = b'{"v":1,'
LARGE = 20_000
_left_be = False
Entry = tuple[str, str, bytes, int, Event]  # id, device, line, tie-breaker, event


def contents(cellar: Path, cache: Cache, until: datetime | None = None) -> Contents:
    """Everything that can be read of a cellar, condensed so that it stands whole at `until`. Writes nothing there."""
    found, troubles = sources(cellar)
    with _without_collector():
        known = [_known(source, cache, until) for source in found]
        story = _Story(found, [each for each, _ in known])
        targets = story.targets()
        if story.asks_for(targets.difference(*(pins for _, pins in known)) if known else targets):
            known = [_anew(source, each, cache, targets, until) for source, each in zip(found, known, strict=True)]
            story = _Story(found, [each for each, _ in known])
        events = story.told()
        _leave_be(len(events))
    troubles = [*troubles, *story.troubles, *kept_aside(cellar)]
    return Contents(events, tuple(troubles), story.read_only, story.devices(), story.hidden)


def _known(source: Found, cache: Cache, until: datetime | None) -> tuple[Digest, frozenset[str]]:
    kept = cache.load(source) if until is None else None
    if kept is None:
        fresh = digest(source, until=until)
        if until is None:
            cache.save(source, fresh, frozenset())
        return fresh, frozenset()
    known, pins, whole = kept
    if not whole:
        covered = known.read_bytes
        known = digest(source, pins, onto=known)
        cache.save(source, known, pins, covered)
    return known, pins


def _anew(
    source: Found, known: tuple[Digest, frozenset[str]], cache: Cache, targets: frozenset[str], until: datetime | None
) -> tuple[Digest, frozenset[str]]:
    """A second reading with the corrected events pinned, where the first condensed any."""
    if known[0].hidden == 0 or targets <= known[1]:
        return known
    fresh = digest(source, targets, until)
    if until is None:
        cache.save(source, fresh, targets)
    return fresh, targets


@contextmanager
def _without_collector() -> Iterator[None]:
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
    """The events of several digests, on their way to one order."""

    def __init__(self, found: list[Found], digests: list[Digest]) -> None:
        self.found, self.digests = found, digests
        self.troubles: list[Trouble] = []
        self.entries: list[Entry] = []
        self.newer = 0
        days = _joined(digests)
        self.hidden = sum(day.hidden for day in days.values())
        self._squeezed = {r[2] for day in days.values() if day.hidden for r in day.kept}
        for source, each in zip(found, digests, strict=True):
            self.troubles.extend(each.troubles)
            self._take(source, each.lines)
        for source, lines in _by_file(found, digests, days):
            self._take(source, lines)

    def _take(self, source: Found, lines: Iterable[tuple[int, bytes]]) -> None:
        entries, device, tie = self.entries, source.device or source.name, len(self.entries)
        for number, line in lines:
            at = line.find(b'"kind":"') + 8
            reader = READERS.get(line[at : line.find(b'"', at)])
            try:
                event = reader(line) if reader and line[:7] == THIS_FORMAT else self._slowly(source, number, line)
            except ValidationError:
                event = self._slowly(source, number, line)
            if event is not None:
                tie += 1
                entries.append((event.id, device, line, tie, event))

    def _slowly(self, source: Found, number: int, line: bytes) -> Event | None:
        """The event of a line that is not as this program writes one; None where it cannot be used."""
        try:
            return None if self._is_newer(source, number, line) else parse(line)
        except Unreadable as why:
            self._report(source, number, f"left out: {why}", "damaged", line)
            return None

    def _is_newer(self, source: Found, number: int, line: bytes) -> bool:
        found = VERSION.match(line)
        version = int(found[1]) if found else parse(line).v
        if version <= FORMAT_VERSION:
            return False
        self.newer = max(self.newer, version)
        self._report(source, number, f"written in format {version}, not understood here", "newer", line)
        return True

    def _report(self, source: Found, number: int | None, what: str, kind: str, line: bytes) -> None:
        shown = line[:400].decode("utf-8", "replace")
        self.troubles.append(Trouble(source.name, number, what, kind, kind != "newer", shown))

    def targets(self) -> frozenset[str]:
        """The ids that corrections point at."""
        return frozenset(e[4].target for e in self.entries if isinstance(e[4], Amended | Withdrew))

    def asks_for(self, targets: frozenset[str]) -> bool:
        """Whether a correction points at a reading that was condensed, or may have been."""
        if not targets or not self.hidden:
            return False
        return not targets.isdisjoint(self._squeezed) or not targets <= {entry[0] for entry in self.entries}

    def told(self) -> tuple[Event, ...]:
        """The events in their order, the same line once; one id with two contents is reported."""
        self.entries.sort()
        told: list[Event] = []
        before: Entry | None = None
        variants: set[bytes] = set()
        for entry in self.entries:
            if before is None or entry[0] != before[0]:
                variants = set()
            elif (body := content(entry[2])) in (variants := variants or {content(before[2])}):
                continue
            else:
                variants.add(body)
                self._twice(entry)
            told.append(entry[4])
            before = entry
        return tuple(told)

    def _twice(self, entry: Entry) -> None:
        what = f"one id stands for two different events: {entry[0]}; both are shown"
        shown = entry[2][:400].decode("utf-8", "replace")
        self.troubles.append(Trouble(f"{entry[1]}.jsonl", None, what, "twice", True, shown))

    @property
    def read_only(self) -> str | None:
        if not self.newer:
            return None
        return f"a newer mustwatch wrote format {self.newer} here; this one can only read it"

    def devices(self) -> dict[str, Source]:
        """What was read, by device; copies by their file name."""
        pairs = zip(self.found, self.digests, strict=True)
        return {
            (s.name if s.copy else s.device or s.name): Source(s.name, s.device, d.read_lines, d.read_bytes)
            for s, d in pairs
        }


def _joined(digests: list[Digest]) -> dict[Key, Day]:
    holders = [each.days for each in digests if each.days]
    if len(holders) < 2:
        return holders[0] if holders else {}
    days: dict[Key, Day] = {}
    for each in holders:
        for key, day in each.items():
            if key in days:
                days[key].join(day)
            else:
                days[key] = Day(list(day.kept), day.count)
    return days


def _by_file(
    found: list[Found], digests: list[Digest], days: dict[Key, Day]
) -> Iterator[tuple[Found, list[tuple[int, bytes]]]]:
    """The readings that stay, under the file each came from."""
    chosen = {reading[2]: reading for day in days.values() for reading in day.kept}
    for source, each in zip(found, digests, strict=True):
        lines = {r[4]: r[3] for day in each.days.values() for r in day.kept if r[2] in chosen}
        if lines:
            yield source, sorted((number, line) for line, number in lines.items())
