"""All sound lines of a cellar in their total order, one at a time: memory stays small whatever the size."""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from pathlib import Path

from mustwatch.ledger.crc import content
from mustwatch.ledger.lines import Scan, id_of, sound_lines
from mustwatch.ledger.sources import Found, sources
from mustwatch.ledger.trouble import Trouble

MOST_RUNS = 64
Ordered = tuple[str, str, bytes, str, int]  # id, device, line, file, line number


@dataclass(slots=True)
class Run:
    """A stretch of a file whose ids do not fall: `first` line to the line before `end`."""

    first: int
    start: int
    end: int | None = None


def ordered_lines(cellar: Path, troubles: list[Trouble]) -> Iterator[tuple[str, bytes]]:
    """The id and bytes of every sound line, in order, the same line once. Troubles are added when found."""
    found, bad = sources(cellar)
    troubles.extend(bad)
    streams = [stream for source in found for stream in _streams(source, troubles)]
    merged = heapq.merge(*streams) if len(streams) > 1 else (streams[0] if streams else iter(()))
    for event_id, group in groupby(merged, itemgetter(0)):
        variants: set[bytes] = set()
        for other in group:
            body = content(other[2])
            if body in variants:
                continue
            variants.add(body)
            if len(variants) == 1:
                yield event_id, other[2]
                continue
            what = f"one id stands for two different events: {event_id}; both are shown"
            shown = other[2][:400].decode("utf-8", "replace")
            troubles.append(Trouble(other[3], other[4], what, "twice", True, shown))
            yield event_id, other[2]


def _streams(source: Found, troubles: list[Trouble]) -> list[Iterator[Ordered]]:
    """One ordered stream a run; a file in great disorder is sorted in memory."""
    runs, scan, last = [Run(0, 0)], Scan(source.name), ""
    for number, line in sound_lines(source, scan):
        event_id = id_of(line)
        if event_id < last:
            runs[-1].end = number
            runs.append(Run(number, 0))
            if len(runs) > MOST_RUNS:
                break
        last = event_id
    if len(runs) > MOST_RUNS:
        scan = Scan(source.name)
        everything = sorted(_ordered(source, scan, Run(0, 0)))
        troubles.extend(scan.close())
        return [iter(everything)]
    troubles.extend(scan.close())
    return [_run(source, run) for run in runs]


def _run(source: Found, run: Run) -> Iterator[Ordered]:
    """The lines of a run; equal ids inside it are put in order."""
    lines = _ordered(source, Scan(source.name), run)
    waiting: list[Ordered] = []
    for entry in lines:
        if waiting and entry[0] != waiting[0][0]:
            yield from sorted(waiting)
            waiting = []
        waiting.append(entry)
    yield from sorted(waiting)


def _ordered(source: Found, scan: Scan, run: Run) -> Iterator[Ordered]:
    device = source.device or source.name
    for number, line in sound_lines(source, scan):
        if run.end is not None and number >= run.end:
            return
        if number >= run.first:
            yield id_of(line), device, line, source.name, number
