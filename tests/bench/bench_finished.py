"""When one knows: how late `finished` is said, how often too early, and whether the day to decide decides.

    python -m tests.bench.bench_finished [how many, default 300]

On made-up ferments, whose truth is known, and on the real logs where they are. Too early: more than 2 points still to
come. The first table asks for so many days of agreement from every batch alike, which shows what a week or two buy;
the last line is what the program asks: a week of a dry, easy batch, two of any other (judgement/proof.py).

Measured over 300: see "How far the outlook can be believed" in DEVELOPERS.md.
"""

from __future__ import annotations

import statistics
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.ending import ending_of
from mustwatch.cellar.rest import resting
from mustwatch.judgement.state import judge
from mustwatch.ledger.settings import Settings
from tests.bench.logs import LOGS, NOW, batch_of, logs
from tests.bench.made_up import BEGIN, MadeUp, batch_at, made_up, reading_days

DAYS = (2.0, 3.0, 5.0, 7.0, 10.0, 14.0, 21.0)
TOO_EARLY_POINTS = 2.0
SETTINGS = Settings()
OURS = "as the program asks"


@dataclass
class Said:
    """How often it was said, how often too early, and how many days after the truth."""

    times: int = 0
    early: int = 0
    delays: list[float] = field(default_factory=list)

    def __str__(self) -> str:
        middle = f"{statistics.median(self.delays):5.1f}" if self.delays else "    -"
        share = 100 * self.early / self.times if self.times else 0.0
        return f"said of {self.times:5}  too early {share:5.1f} in 100  days after the truth, median {middle}"


def ways_to_say(batch: Batch) -> Iterator[str]:
    """Every rule by which this batch would be called finished now."""
    latest = batch.latest
    if latest is None:
        return
    if ending_of(batch).reached(latest.sg):
        yield from (f"{days:.0f} days of agreement" for days in DAYS if resting(batch).lasts(days))
    now = max(latest.at, batch.readings[-1].at)
    if judge(batch, SETTINGS, now).state == "finished":
        yield OURS


def truly_ended(one: MadeUp) -> float | None:
    """The first day from which no more than two points are to come, None where something was put in later."""
    if one.fed is not None or one.stabilised is not None or one.kind in ("stalls", "restarts"):
        return None
    return next((n / 4 for n in range(4 * 120) if one.to_come(n / 4) <= TOO_EARLY_POINTS), None)


def made_up_study(count: int) -> tuple[dict[str, Said], dict[str, list[bool]]]:
    """(what was said by each rule, whether the day to decide decided, by the habit of reading)."""
    found: dict[str, Said] = defaultdict(Said)
    decided: dict[str, list[bool]] = defaultdict(list)
    for seed in range(count):
        one = made_up(seed)
        ended, told, waiting = truly_ended(one), set(), None
        for day in reading_days(one):
            batch, now = batch_at(one, day)
            verdict = judge(batch, SETTINGS, now)
            if waiting is not None and now >= waiting:
                decided[one.habit].append(verdict.state != "undecided")
                waiting = None
            if verdict.state == "undecided" and verdict.decide_on and verdict.decide_on > now + timedelta(hours=1):
                waiting = waiting or verdict.decide_on
            for way in ways_to_say(batch):
                if way in told:
                    continue
                told.add(way)
                found[way].times += 1
                found[way].early += one.to_come(day) > TOO_EARLY_POINTS
                if ended is not None and day >= ended:
                    found[way].delays.append((now - BEGIN) / timedelta(days=1) - ended)
    return found, decided


def log_study() -> Said:
    """The same of the real logs that finished: truth is the last reading."""
    found = Said()
    for log in logs():
        readings = log["readings"]
        if log["outcome"] != "finished":
            continue
        end = readings[-1][1]
        ended = next(hours for hours, sg, _ in readings if sg <= end + TOO_EARLY_POINTS / 1000)
        for count in range(2, len(readings) + 1):
            if judge(batch_of(log, count), SETTINGS, NOW).state == "finished":
                hours, sg, _ = readings[count - 1]
                found.times += 1
                found.early += sg > end + TOO_EARLY_POINTS / 1000
                found.delays.append((hours - ended) / 24)
                break
    return found


def main() -> None:
    """Prints the tables."""
    found, decided = made_up_study(int(sys.argv[1]) if len(sys.argv) > 1 else 300)
    for way in [f"{days:.0f} days of agreement" for days in DAYS] + [OURS]:
        print(f"{way:24}{found[way]}")
    for habit, hits in decided.items():
        print(f"the day to decide, read {habit:24} decided {100 * statistics.mean(hits):3.0f} in 100 of {len(hits)}")
    print(f"real logs               {log_study()}" if LOGS.exists() else "real logs: skipped, they are not here")


if __name__ == "__main__":
    main()
