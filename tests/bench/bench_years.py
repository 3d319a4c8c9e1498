"""What `list`, `ahead`, `shelf` and `find` cost with 300 batches over ten years, against `check` on the sample cellar.

    taskset -c 1 python -m tests.bench.bench_years

Processor time of whole processes, the smallest of several, as ratios against `check` in the same run. The bar is 2.
"""

from __future__ import annotations

import os
import random
import resource
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import Event
from mustwatch.ledger.store import Ledger

TOP = Path(__file__).parents[2]
NOW = datetime(2026, 11, 20, 12, tzinfo=UTC)
BATCHES, YEARS, KEPT, RUNS = 300, 10, 100, 5
ASKED = (["list"], ["ahead"], ["shelf"], ["find", "pear"], ["check"])


def _story(number: int, dice: random.Random) -> Iterator[Event]:
    """A batch fermented, racked, bottled and tasted; all but the newest are drunk."""
    tag, start = f"b-{number}", NOW - timedelta(days=365 * YEARS * (BATCHES - number) / BATCHES)

    def at(days: float) -> datetime:
        return start + timedelta(days=days)

    def read(days: float, sg: float) -> Event:
        return draft("read", at(days), tag, gravity={"value": round(sg, 3), "sample_c": 20}, must_c=20)

    high = dice.uniform(1.07, 1.12)
    jug = {"kind": "jug", "capacity_l": 5}
    honey = [{"what": "heather honey", "category": "honey", "kg": 1.3}]
    yield draft("mixed", at(0), tag, name=f"Batch {number}", volume_l=4.5, vessel=jug, ingredients=honey)
    yield read(0.02, high)
    yield draft("pitched", at(0.03), tag, yeast={"label": "yeast", "class": "white-wine", "tolerance_abv": 14})
    yield draft("closed", at(0.04), tag, closure="airlock")
    yield from (read(day, 1 + (high - 1) * 2.718 ** (-day / 7)) for day in range(2, 40, 3))
    yield from (read(day, 0.999) for day in (60, 75))
    yield draft("racked", at(76), tag, vessel={"kind": "jug", "capacity_l": 4.5}, volume_l=4.4)
    yield draft("closed", at(76.01), tag, closure="airlock")
    yield draft("noted", at(80), tag, note="smells of pear and clover")
    lots = [{"size_ml": 750, "count": 6, "bottle": "still-wine", "closure": "cork"}]
    yield draft("bottled", at(120), tag, style="still", lots=lots)
    yield draft("tasted", at(200), tag, palate="round", score_of_10=8)
    if number < BATCHES - KEPT:
        yield draft("took", at(400), tag, count=6)
        yield draft("ended", at(401), tag, outcome="drunk")


def _cost(words: list[str]) -> float:
    """Processor seconds of one run of the program."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-m", "mustwatch", *words], stdout=subprocess.DEVNULL, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Makes the cellar, and prints a line a command."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        os.environ |= {"XDG_STATE_HOME": str(home), "PYTHONPATH": str(TOP / "src")}
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        dice = random.Random(1)
        events = [event for number in range(BATCHES) for event in _story(number, dice) if event.at <= NOW]
        Ledger.make(home / "cellar", "")
        Ledger(home / "cellar").append(sorted(events, key=lambda event: event.at), NOW)
        sample = ["--cellar", str(TOP / "sample_cellar"), "check"]
        years = ["--cellar", str(home / "cellar"), "--now", NOW.isoformat()]
        base = min(_cost(sample) for _ in range(RUNS))
        print(f"check on the sample cellar: {base * 1000:.0f} ms; {len(events)} events in {BATCHES} batches")
        for words in ASKED:
            print(f"{' '.join(words):<10} {min(_cost([*years, *words]) for _ in range(RUNS)) / base:.2f}")


if __name__ == "__main__":
    main()
