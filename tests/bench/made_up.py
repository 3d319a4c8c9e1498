"""Made-up fermentations with known truth, by a model of yeast, food, sugar and alcohol unlike the forecast's own.

Yeast grows on food, eats sugar at a pace that warmth sets and alcohol slows, and wears out. Nothing here is
shared with the forecast, so that it cannot be right by construction. Reading habits (gaps, rounding, slips)
follow those of real logs: gaps from daily to three weeks, glasses read to 1, 2 or 5 points.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from math import exp

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import fold
from mustwatch.ledger.events import Added, Closed, Event, Mixed, Pitched, Read
from mustwatch.ledger.settings import Settings

BEGIN = datetime(2026, 1, 1, 12, tzinfo=UTC)
STEP_DAYS = 0.05
LENGTH_DAYS = 120.0
# About one in seven stops early, as in the real logs.
KINDS = ("plain",) * 12 + ("stalls",) * 2 + ("restarts",) + ("fed",) * 2 + ("cold",) * 2 + ("stabilised",)
CLASSES = {"ale": (8, 12), "white-wine": (13, 15), "sparkling": (16, 18), "high-tolerance": (18, 21)}
HABITS = {"daily": 1.0, "every two or three days": 2.5, "weekly": 6.5, "sparse": 13.0}
MARKS = (1.0,) * 6 + (2.0,) * 3 + (5.0,)


@dataclass
class MadeUp:
    """One made-up fermentation. truth: gravity points at each step; stopped, woke, fed, stabilised: days, or None."""

    seed: int
    kind: str
    yeast_class: str
    start: float
    dry: float
    truth: list[float]
    temps: list[float]
    readings: list[tuple[float, float]]
    habit: str
    stops_at: float | None = None
    sleeps: float = 0.0
    stopped: float | None = None
    woke: float | None = None
    fed: float | None = None
    fed_points: float = 0.0
    stabilised: float | None = None
    sealed: float | None = None
    tells_warmth: bool = True
    _events: list[Event] = field(default_factory=list)

    def at(self, day: float) -> float:
        """The true gravity, points."""
        return self.truth[min(len(self.truth) - 1, max(0, round(day / STEP_DAYS)))]

    def fall(self, day: float) -> float:
        """The true fall over the next day, points; none is counted where sugar went in."""
        return self.at(day) - self.at(day + 1)

    def to_come(self, day: float) -> float:
        """What truly still ferments within half a year, points."""
        return max(0.0, self.at(day) - min(self.truth[max(0, round(day / STEP_DAYS)) :]))


def made_up(seed: int) -> MadeUp:
    """The made-up fermentation of a seed, the same on every machine."""
    chance = random.Random(seed)
    kind = chance.choice(KINDS)
    yeast_class = chance.choice(list(CLASSES))
    low, high = CLASSES[yeast_class]
    tolerance = chance.uniform(low - 0.5, high + 1.5)
    start = min(chance.gauss(100, 18), 0.95 * tolerance / 0.131 + 8) if chance.random() < 0.8 else chance.gauss(110, 12)
    start = max(55.0, min(140.0, start))
    one = MadeUp(seed, kind, yeast_class, start, chance.gauss(-3, 3), [], [], [], chance.choice(list(HABITS)))
    one.tells_warmth = chance.random() < 0.5
    _plan(one, chance)
    _ferment(one, chance, tolerance)
    _read(one, chance)
    return one


def _plan(one: MadeUp, chance: random.Random) -> None:
    if one.kind in ("stalls", "restarts"):
        one.stops_at = one.start - chance.uniform(0.15, 0.75) * (one.start - one.dry)
        one.sleeps = chance.uniform(8, 30) if one.kind == "restarts" else LENGTH_DAYS * 2
    if one.kind == "fed":
        one.fed, one.fed_points = chance.uniform(5, 15), chance.uniform(15, 40)
    if one.kind == "stabilised":
        one.stabilised = chance.uniform(10, 40)
    if chance.random() < 0.3:
        one.sealed = chance.uniform(10, 90)


def _ferment(one: MadeUp, chance: random.Random, tolerance: float) -> None:
    warm = chance.gauss(20, 2.5)
    cooled = chance.uniform(4, 20) if one.kind == "cold" else None
    pace = 0.30 * exp(chance.gauss(0, 0.55))
    grows, food, yeast = 1.6 * exp(chance.gauss(0, 0.3)), 1.0, 0.04
    wears = 0.02 * exp(chance.gauss(0, 0.7))
    sugar, made = one.start - one.dry, 0.0
    for step in range(int((LENGTH_DAYS + 60) / STEP_DAYS)):
        day = step * STEP_DAYS
        temp = 8.0 if cooled is not None and day > cooled else warm
        if one.fed is not None and abs(day - one.fed) < STEP_DAYS / 2:
            sugar += one.fed_points
        one.truth.append(one.dry + sugar)
        one.temps.append(temp)
        if one.stopped is None and one.stops_at is not None and one.truth[-1] <= one.stops_at:
            one.stopped, one.woke = day, day + one.sleeps
        asleep = one.stopped is not None and day >= one.stopped and (one.woke is None or day < one.woke)
        works = 0.01 if asleep or (one.stabilised is not None and day >= one.stabilised) else 1.0
        heat = exp(0.085 * (temp - 20))
        bears = max(0.0, 1 - made * 0.131 / tolerance) ** 0.5
        growth = grows * heat * yeast * food / (food + 0.3)
        yeast += STEP_DAYS * (growth - wears * heat * yeast * (1 + made * 0.131 / tolerance))
        food = max(0.0, food - STEP_DAYS * growth)
        eaten = min(sugar, STEP_DAYS * works * pace * heat * yeast * bears * 90 * sugar / (sugar + 45))
        sugar, made = sugar - eaten, made + eaten


def _read(one: MadeUp, chance: random.Random) -> None:
    noise, mark = chance.uniform(0.6, 1.4), chance.choice(MARKS)
    day, gap = 0.0, HABITS[one.habit]
    while day < LENGTH_DAYS:
        value = one.at(day) + chance.gauss(0, noise)
        if day > 0 and one.fall(day) > 1 and chance.random() < 0.1:
            value += chance.uniform(1, 4)  # left-over gas lifts the glass
        if day > 0 and chance.random() < 0.01:
            value += chance.choice((-1, 1)) * chance.uniform(8, 20)
        one.readings.append((day, round(value / mark) * mark))
        day += gap * exp(chance.gauss(0, 0.35)) * (1 if day < 30 else 2)


def events_of(one: MadeUp) -> list[Event]:
    """Its whole story as a ledger would hold it."""
    if one._events:
        return one._events
    tag = f"m{one.seed}"

    def common(day: float, kind: str) -> dict:
        at = BEGIN + timedelta(days=day)
        return {"id": f"{tag}-{kind}-{day:.4f}", "at": at, "batch": tag, "kind": kind}

    yeast = {"label": "yeast", "class": one.yeast_class}
    honey = [{"what": "honey", "category": "honey"}]
    events: list[Event] = [
        Mixed(**common(0, "mixed"), volume_l=4.0, vessel={"kind": "jug", "capacity_l": 4.5}, ingredients=honey),
        Pitched(**common(0, "pitched"), yeast=yeast),
        Closed(**common(0, "closed"), closure="airlock"),
    ]
    for day, points in one.readings:
        warm = round(one.temps[round(day / STEP_DAYS)], 1) if one.tells_warmth else None
        gravity = {"value": 1 + points / 1000, "sample_c": 20.0}
        events.append(Read(**common(day, "read"), gravity=gravity, must_c=warm))
    if one.fed is not None:
        events.append(Added(**common(one.fed, "added"), what="honey", category="honey"))
    if one.stabilised is not None:
        events.append(Added(**common(one.stabilised, "added"), what="sorbate", category="sorbate", g=1.0))
    if one.sealed is not None:
        events.append(Closed(**common(one.sealed, "closed"), closure="solid-bung"))
    one._events = sorted(events, key=lambda event: event.at)
    return one._events


def batch_at(one: MadeUp, day: float) -> tuple[Batch, datetime]:
    """The batch as known at a day, and that time."""
    now = BEGIN + timedelta(days=day + 1e-6)
    return fold(events_of(one), Settings(), now).batches[f"m{one.seed}"], now


def reading_days(one: MadeUp) -> Iterator[float]:
    """The days on which it was read, from the second reading on."""
    yield from (day for day, _ in one.readings[1:])
