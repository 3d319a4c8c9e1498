"""All sound lines of a cellar in their total order, one at a time: memory stays small whatever the size."""

import heapq
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, TypeVar

from mustwatch.ledger.crc import content
from mustwatch.ledger.lines import Scan, id_of, sound_lines
from mustwatch.ledger.sources import Found, sources
from mustwatch.ledger.trouble import Trouble, excerpt

Ordered = tuple[str, str, bytes, str, int]  # id, device, line, file, line number
E = TypeVar("E", bound=tuple[Any, ...])


def ordered_lines(cellar: Path, troubles: list[Trouble]) -> Iterator[tuple[str, bytes]]:
    """The id and bytes of every sound line, in order, the same line once. Troubles are added when found."""
    found, bad = sources(cellar)
    troubles.extend(bad)
    streams = [_stream(source, troubles) for source in found]
    for entry in once(heapq.merge(*streams) if len(streams) > 1 else next(iter(streams), ()), troubles):
        yield entry[0], entry[2]


def once(entries: Iterable[E], troubles: list[Trouble]) -> Iterator[E]:
    """Of entries in order, each beginning as Ordered, every line once; one id with two contents is told, both stay."""
    before: E | None = None
    variants: set[bytes] = set()
    for entry in entries:
        if before is None or entry[0] != before[0]:
            before, variants = entry, set()
            yield entry
            continue
        variants = variants or {content(before[2])}
        if (body := content(entry[2])) not in variants:
            variants.add(body)
            what = f"one id stands for two different events: {entry[0]}; both are shown"
            troubles.append(Trouble(entry[3], entry[4], what, "twice", text=excerpt(entry[2])))
            yield entry


def _stream(source: Found, troubles: list[Trouble]) -> Iterator[Ordered]:
    """The lines of a file in order: as they stand where their ids rise, else sorted in memory."""
    scan, last, rising = Scan(source.name), "", True
    for _, line in sound_lines(source, scan):
        event_id = id_of(line)
        rising, last = rising and event_id > last, event_id
    troubles.extend(scan.close())
    lines = _entries(source)
    return lines if rising else iter(sorted(lines))


def _entries(source: Found) -> Iterator[Ordered]:
    device = source.device or source.name
    for number, line in sound_lines(source, Scan(source.name)):
        yield id_of(line), device, line, source.name, number
