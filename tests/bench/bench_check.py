"""How long `check` takes: 20,000 batches, and 200,000 readings in one; as ratios to a loop measured in the same run.

    python -m tests.bench.bench_check [BATCHES] [READINGS]

Prints seconds of processor time, and what they are in loops of twenty million additions, so that a busy or a slow
machine tells the same. The time of twice as many batches must be about twice as long.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from mustwatch.ledger.clock import next_id
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event
from mustwatch.ledger.stamp import line_of
from mustwatch.ledger.store import Ledger

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)


def many_batches(count: int) -> Iterator[Event]:
    """Batches of six weeks and more that were read once on the way; every other one closed tight: all have findings."""
    for number in range(count):
        tag, began = f"b-{number}", NOW - timedelta(days=40 + number % 100, minutes=number % 977)
        yield draft("mixed", began, tag, volume_l=4.5, vessel={"kind": "jug", "capacity_l": 5})
        yield draft("read", began, tag, gravity={"value": 1.09, "sample_c": 20})
        yield draft("pitched", began, tag, yeast={"label": "y", "class": "ale"})
        yield draft("closed", began, tag, closure="tight-cap" if number % 2 else "airlock")
        yield draft("read", began + timedelta(days=10), tag, gravity={"value": 1.04, "sample_c": 20})


def many_readings(count: int) -> Iterator[Event]:
    """One batch of a year that was read every few minutes."""
    began = NOW - timedelta(days=365)
    yield draft("pitched", began, "one", yeast={"label": "y", "class": "ale"})
    yield draft("closed", began, "one", closure="airlock")
    for number in range(count):
        at = began + timedelta(days=364) * (number / count)
        yield draft("read", at, "one", gravity={"value": round(0.998 + 0.09 * 0.99 ** (number / count * 2000), 4)})


def made(folder: Path, events: Iterator[Event]) -> Path:
    """A cellar of these events, written without asking the disk after each."""
    Ledger.make(folder, "")
    last, lines = None, []
    for number, event in enumerate(sorted(events, key=lambda event: event.at), 1):
        last = next_id(last, event.at)
        lines.append(line_of(stamped(event, last, number)))
    (folder / "events" / "00112233445566aa.jsonl").write_bytes(b"".join(lines))
    return folder


def loop_s() -> float:
    """Seconds of processor time for the loop that all is measured against."""
    began, total = time.process_time(), 0
    for number in range(20_000_000):
        total += number
    return time.process_time() - began


def check_s(cellar: Path, state: Path) -> float:
    """Seconds of processor time that `check` takes."""
    env = {**os.environ, "XDG_STATE_HOME": str(state), "XDG_CACHE_HOME": str(state)}
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    words = [sys.executable, "-m", "mustwatch", "--cellar", str(cellar), "--now", NOW.isoformat(), "check", "--json"]
    subprocess.run(words, env=env, stdout=subprocess.DEVNULL, check=False)
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before


def main(batches: int = 20_000, readings: int = 200_000) -> None:
    """Prints the table."""
    with tempfile.TemporaryDirectory() as place:
        stories = {
            f"{batches // 2:,} batches": many_batches(batches // 2),
            f"{batches:,} batches": many_batches(batches),
            f"{readings:,} readings": many_readings(readings),
        }
        for name, events in stories.items():
            cellar = made(Path(place) / name.replace(" ", "-"), events)
            loop, taken = loop_s(), check_s(cellar, Path(place) / "state")
            print(f"{name:>20}  {taken:6.1f} s  {taken / loop:5.1f} loops of {loop:.1f} s")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
