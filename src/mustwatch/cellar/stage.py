"""The stage of a batch: derived from its events, never set by hand."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Reading
from mustwatch.cellar.kinds import Kinds
from mustwatch.cellar.lives import last_end
from mustwatch.ledger.events import Added, Bottled, Closed, Mixed, Pitched, Racked, Read, Seen

FIRST_FALL = 0.003  # SG; less is within the noise of two readings
RESTING_DAYS = 14.0
RESTING_SG = 0.002
FERMENTED_SG = 1.020  # no must of honey or fruit starts so low: it has fermented though its start is not known
SIGNS_OF_LIFE = {"foam", "ring", "rafts"}


def stage_of(
    kinds: Kinds, readings: Sequence[Reading], start_sg: float | None, pitched: Pitched | None
) -> tuple[str, datetime | None]:
    """(stage, since) of a story; readings are the good ones, oldest first."""
    if (end := last_end(kinds)) is not None:
        return "ended", end.at
    if (bottled := kinds.last(Bottled)) is not None:
        return "bottled", bottled.at
    return vessel_stage_of(kinds, readings, start_sg, pitched)


def vessel_stage_of(
    kinds: Kinds, readings: Sequence[Reading], start_sg: float | None, pitched: Pitched | None
) -> tuple[str, datetime | None]:
    """(stage, since) of what lies in a vessel, whatever was bottled of it."""
    if pitched is None:
        # What was closed, racked, fed or looked at is there, though its mixing was not written down.
        there = kinds.first(Mixed) or next(iter(kinds.among(Added, Closed, Racked, Read, Seen)), None)
        return ("must", there.at) if there else ("planned", None)
    racked = next((event for event in kinds.all(Racked) if event.at > pitched.at), None)
    if racked is not None:
        rest = _resting_since(readings)
        return ("ageing", max(rest, racked.at)) if rest else ("secondary", racked.at)
    alive = _first_sign(kinds.all(Seen), readings, pitched, start_sg)
    return ("primary", alive) if alive else ("lag", pitched.at)


def _resting_since(readings: Sequence[Reading]) -> datetime | None:
    """When the last run of readings that agree began, if it spans long enough to call the batch at rest."""
    if len(readings) < 2:
        return None
    last = readings[-1]
    first = last
    for reading in reversed(readings[:-1]):
        if abs(reading.sg - last.sg) > RESTING_SG:
            break
        first = reading
    return first.at if last.at - first.at >= timedelta(days=RESTING_DAYS) else None


def _first_sign(
    seen: Sequence[Seen], readings: Sequence[Reading], pitched: Pitched, start_sg: float | None
) -> datetime | None:
    signs = [event.at for event in seen if event.at >= pitched.at and _shows_life(event)]
    high = start_sg
    for reading in readings:
        fell = reading.sg <= FERMENTED_SG if high is None else high - reading.sg >= FIRST_FALL
        if reading.at >= pitched.at and fell:
            signs.append(reading.at)
            break
        high = reading.sg if high is None else max(high, reading.sg)
    return min(signs, default=None)


def _shows_life(seen: Seen) -> bool:
    return seen.airlock in {"bubbling", "foamed"} or seen.surface in SIGNS_OF_LIFE
