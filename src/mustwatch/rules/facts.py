"""Facts that several rules ask of a batch. Safety facts take the worse side of what is not recorded."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TypeVar

from mustwatch.batches.batch import Batch, Reading
from mustwatch.batches.substance import kind_of
from mustwatch.ledger.events import Event
from mustwatch.rules.rest import SETTLED_DAYS, Rest, rest_of
from mustwatch.rules.view import View

Known = TypeVar("Known")
SUGARS = frozenset({"honey", "sugar", "juice", "fruit"})
SEALED_CLOSURES = frozenset({"solid-bung", "tight-cap", "crown-cap", "cork", "swing-top", "keg"})
FRAGILE_VESSELS = frozenset({"jug", "carboy", "demijohn", "glass", "bottle", "unknown"})
DRY_SG = 1.000
TOGETHER = timedelta(days=14)  # sulfite and sorbate given so close together count as one stabilising


@dataclass(frozen=True, slots=True)
class Stabilising:
    """Sulfite and sorbate, both with their mass: since when, and the events."""

    at: datetime
    ids: tuple[str, ...]


def once_a_batch(ask: Callable[[Batch], Known]) -> Callable[[Batch], Known]:
    """The same question, worked out once while one batch is judged: many rules ask it one after the other.

    Only the last batch is remembered; batches are frozen, so the answer cannot go stale.
    """
    slot: list[tuple[Batch, Known]] = []

    def remembered(batch: Batch) -> Known:
        if not slot or slot[0][0] is not batch:
            slot[:] = [(batch, ask(batch))]
        return slot[0][1]

    remembered.__doc__ = ask.__doc__
    return remembered


@once_a_batch
def resting(batch: Batch) -> Rest:
    """The run of readings, up to the last, that agree since sugar last went in; see `rest_of`."""
    return rest_of(good_readings(batch), fed_at(batch))


def at_rest(batch: Batch) -> bool:
    """Whether its readings have agreed for a week, and nothing since has broken that."""
    return resting(batch).days >= SETTLED_DAYS


@once_a_batch
def good_readings(batch: Batch) -> tuple[Reading, ...]:
    """The readings that judgements may use, oldest first."""
    return batch.good_readings


@once_a_batch
def remarks(batch: Batch) -> tuple[tuple[Event, str], ...]:
    """The events that carry words of the user's own, with those words: notes, and what was seen besides."""
    found = []
    for event in batch.story:
        text = event.note or ""
        if event.kind == "seen" and event.signs:
            text = " ".join((*event.signs, text))
        if text:
            found.append((event, text))
    return tuple(found)


def fed_at(batch: Batch, until: datetime | None = None) -> datetime | None:
    """When sugar in any form last came in, at or before a time."""
    times = [event.at for event in batch.additions if event.category in SUGARS and (until is None or event.at <= until)]
    return max(times, default=None)


def stabilised(batch: Batch, until: datetime | None = None) -> Stabilising | None:
    """Sulfite and sorbate given about the same time and up to `until`, each with its amount; else None.

    A dose without its amount is an unknown dose and proves nothing.
    """
    doses = [
        event
        for event in batch.additions
        if event.category in ("sulfite", "sorbate") and (event.g or event.l) and (until is None or event.at <= until)
    ]
    for sorbate in reversed([dose for dose in doses if dose.category == "sorbate"]):
        for sulfite in reversed([dose for dose in doses if dose.category == "sulfite"]):
            if abs(sorbate.at - sulfite.at) <= TOGETHER:
                return Stabilising(max(sorbate.at, sulfite.at), (sulfite.id, sorbate.id))
    return None


def doses_without_amount(batch: Batch) -> tuple[str, ...]:
    """What was given of sulfite and sorbate without saying how much, in words for a finding's missing facts."""
    return tuple(
        dict.fromkeys(
            f"how much {event.category} was given"
            for event in batch.additions
            if event.category in ("sulfite", "sorbate") and not (event.g or event.l)
        )
    )


def readings_until(batch: Batch, until: datetime) -> tuple[Reading, ...]:
    """The readings that judgements may use, taken at or before a time."""
    return tuple(reading for reading in good_readings(batch) if reading.at <= until)


def once_stalled(batch: Batch) -> bool:
    """Whether it was pitched again: the mark of a ferment that stopped on its way."""
    return len(batch.pitches) > 1


def days_needed(batch: Batch, reading: Reading | None) -> float:
    """Days of agreement before it may be called at rest: 7 for a dry, easy batch, 14 for a sweet or strong one."""
    strong = (batch.whole_start_sg or 0) > 1.110
    sweet = reading is None or reading.sg > DRY_SG
    return 14.0 if sweet or strong or once_stalled(batch) else 7.0


def look_in(view: View, days: float) -> datetime:
    """A time so many days from now."""
    return view.now + timedelta(days=days)


def share_left(batch: Batch, reading: Reading | None) -> float | None:
    """Gravity points at a reading as a share of those at the start; None when either is not known."""
    start = batch.whole_start_sg
    if reading is None or start is None or start <= 1.005:
        return None
    return reading.points / ((start - 1) * 1000)


def share_left_for_sure(batch: Batch, at: datetime | None = None) -> float | None:
    """The larger share of the last two readings up to a time: what two readings agree to have been left."""
    readings = good_readings(batch) if at is None else readings_until(batch, at)
    shares = [share for reading in readings[-2:] if (share := share_left(batch, reading)) is not None]
    return max(shares) if len(shares) == 2 else None


def in_glass(batch: Batch) -> bool:
    """Whether it lies in glass; a vessel whose kind is not recorded counts as glass."""
    return batch.vessel_kind is None or batch.vessel_kind in FRAGILE_VESSELS


@once_a_batch
def fruit_in_since(batch: Batch) -> tuple[datetime, str] | None:
    """(since when, event id) of the oldest fruit still in the vessel; None when there is none.

    Fruit leaves when it is removed or when the batch is racked.
    """
    first: tuple[datetime, str] | None = None
    for event in batch.story:
        if event.kind == "mixed":
            if any(part.category == "fruit" for part in event.ingredients):
                first = (event.at, event.id)
        elif event.kind == "racked" or (event.kind == "removed" and kind_of(event.what)[0] not in ("oak", "spice")):
            first = None
        elif event.kind == "added" and event.category == "fruit" and first is None:
            first = (event.at, event.id)
    return first
