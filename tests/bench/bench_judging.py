"""How fast a large cellar is judged: a thousand batches of two hundred events each.

    python -m tests.bench.bench_judging [batches, default 1000]

Prints the processor time of judging all of them cold, and of judging again after one new reading with what was
kept. Exits with 1 where a bar is missed: two seconds cold, fifty milliseconds after one reading, by a thousand.
"""

from __future__ import annotations

import random
import sys
import time
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import exp

from mustwatch.cellar.fold import Cellar, fold
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event
from mustwatch.ledger.settings import Settings
from mustwatch.rules.engine import Cache, judge_cellar

START = datetime(2025, 3, 1, 9, tzinfo=UTC)
NOW = START + timedelta(days=400)
COLD_S, AGAIN_S = 2.0, 0.050
EVENTS = 200


def story(tag: str, began: datetime, dice: random.Random) -> list[Event]:
    """Two hundred events of one made-up batch: a reading every other day, and looks in between."""
    start = 1.080 + 0.030 * dice.random()
    drafts = [
        draft("mixed", began, tag, volume_l=4.5, vessel={"kind": "jug", "capacity_l": 5.4},
              ingredients=[{"what": "honey", "category": "honey", "kg": 1.4}]),
        draft("read", began, tag, gravity={"value": round(start, 3), "sample_c": 20.0}, must_c=19.0, ph=3.8),
        draft("pitched", began + timedelta(minutes=30), tag, yeast={"class": "ale"}),
        draft("closed", began + timedelta(minutes=40), tag, closure="airlock"),
    ]  # fmt: skip
    for step in range(1, EVENTS - len(drafts) + 1):
        at = began + timedelta(hours=12 * step)
        if step % 4 == 0:
            sg = 0.996 + (start - 0.996) * exp(-0.06 * step) + dice.gauss(0, 0.0007)
            drafts.append(draft("read", at, tag, gravity={"value": round(sg, 3), "sample_c": 20.0}, must_c=20.0))
        else:
            kind, keys = [
                ("swirled", {}),
                ("seen", {"airlock": "bubbling", "surface": "foam"}),
                ("noted", {"note": "smells of bread"}),
            ][step % 4 - 1]
            drafts.append(draft(kind, at, tag, **keys))
    return [stamped(event, f"{tag}-{place:04d}", place) for place, event in enumerate(drafts)]


def made_up_cellar(batches: int) -> Cellar:
    """So many batches, begun over three hundred days."""
    dice = random.Random(1)
    events = [
        event for number in range(batches) for event in story(f"b{number}", START + timedelta(days=number % 300), dice)
    ]
    return fold(events, Settings(), NOW)


def timed(cellar: Cellar, cache: Cache) -> float:
    """Processor seconds of one judging."""
    began = time.process_time()
    judge_cellar(cellar, NOW, cache)
    return time.process_time() - began


def main(batches: int) -> int:
    """Measures and prints; 1 where a bar is missed."""
    judge_cellar(made_up_cellar(2), NOW)  # the rules are imported once in a program's life
    cellar, cache = made_up_cellar(batches), Cache()
    cold = timed(cellar, cache)
    changed = cellar.batches["b1"]
    cellar.batches["b1"] = replace(changed, revision=changed.revision + "+")
    again = timed(cellar, cache)
    share = batches / 1000
    print(f"{batches} batches of {EVENTS} events: {cold:.2f} s cold, {again * 1000:.0f} ms after one new reading")
    return int(cold > COLD_S * share or again > AGAIN_S * max(share, 0.1))


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000))
