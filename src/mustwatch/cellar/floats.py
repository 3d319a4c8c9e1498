"""Gravities of floating instruments: set right by the hydrometer's, and never so many that they drown it. Pure.

A float shows the trend many times a day, with an error of its own that all its readings share: bubbles and dirt lift
it for weeks. So each hydrometer reading sets it right from then on, and only a few of its readings are taken as
evidence beside the hydrometer's. Its own lines stay in the story.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from mustwatch.cellar.batch import Reading

BESIDE = timedelta(hours=12)  # a float's readings so near a hydrometer's were of the same must; within it half a point
BETWEEN, AFTER = 2, 3  # how many count between two hydrometer readings, and after the last
APART = timedelta(hours=20)  # one a day says what there is to say


def with_floats(readings: Sequence[Reading]) -> list[Reading]:
    """The readings in their order: a hydrometer's all, a float's set right and thinned."""
    if not any(reading.floating for reading in readings):
        return list(readings)
    result: list[Reading] = []
    gap: list[Reading] = []
    shifts: dict[str | None, float] = {}
    for place, reading in enumerate(readings):
        if reading.floating:
            gap.append(_shifted(reading, shifts.get(reading.instrument, 0.0)))
            continue
        if reading.doubt is None:
            result += _spread(gap, BETWEEN, alone=not any(not one.floating for one in result))
            gap = []
            shifts |= _shifts_at(reading, readings, place)
        result.append(reading)
    alone = not any(not one.floating for one in result)
    return sorted([*result, *_spread(gap, AFTER, alone)], key=lambda reading: reading.at)


def _shifts_at(reading: Reading, readings: Sequence[Reading], place: int) -> dict[str | None, float]:
    """How far each float lies off a hydrometer reading, by what it showed nearest to it."""
    nearest: dict[str | None, Reading] = {}
    for other in (*readings[max(0, place - 40) : place], *readings[place + 1 : place + 41]):
        if other.floating and other.doubt is None and abs(other.at - reading.at) <= BESIDE:
            before = nearest.get(other.instrument)
            if before is None or abs(other.at - reading.at) < abs(before.at - reading.at):
                nearest[other.instrument] = other
    return {name: reading.sg - other.sg for name, other in nearest.items()}


def _shifted(reading: Reading, shift: float) -> Reading:
    return reading if not shift or reading.doubt else reading._replace(sg=round(reading.sg + shift, 4))


def _spread(gap: Sequence[Reading], most: int, alone: bool) -> list[Reading]:
    """A few of a row of readings: the newest, and others a day apart and evenly before it; alone: as many as days."""
    days: list[Reading] = []
    for reading in reversed(gap):
        if not days or days[-1].at - reading.at >= APART:
            days.append(reading)
    days.reverse()
    if alone or len(days) <= most:
        return days
    step = len(days) / most
    return [days[min(len(days) - 1, round((number + 1) * step) - 1)] for number in range(most)]
