"""Facts that several rules ask of a batch. Safety facts take the worse side of what is not recorded."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TypeVar

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.cellar.course import SUGARS
from mustwatch.entry.substance import kind_of
from mustwatch.judgement.doses import sorbates, sulfites
from mustwatch.judgement.rest import SETTLED_DAYS, Rest, rest_of
from mustwatch.ledger.events import Added, Event, Mixed, Racked, Removed, Seen

Known = TypeVar("Known")
SEALED_CLOSURES = frozenset({"solid-bung", "tight-cap", "crown-cap", "cork", "swing-top", "keg"})
NOT_OF_GLASS = re.compile(
    r"\b(bucket|pail|barrel|cask|keg|drum|tank|pot|kettle|crock|steel|stainless|plastic|pet|oak|wood\w*)s?\b", re.I
)
DRY_SG = 1.000
READS_DRY_SG = DRY_SG + 0.0005  # half a mark more: what is dry to the mark is dry
LEAST_SORBATE_MG_L = 54.0  # nine tenths of the smallest dose in the table of Underhill, 60 mg/L of the salt
LEAST_SULFITE_MG_L = 12.0  # nine tenths of what even pH 3.0 asks for, 13 mg/L
COLD_C = 10.0  # in which yeast sleeps, and equal readings say less
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
    """The newest run of readings that agree since sugar, yeast or another must last came in; see `rest_of`."""
    return rest_of(good_readings(batch), woken_at(batch))


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
        if type(event) is Seen and event.signs:
            text = " ".join((*event.signs, text))
        if text:
            found.append((event, text))
    return tuple(found)


def fed_at(batch: Batch, until: datetime | None = None) -> datetime | None:
    """When sugar in any form last came in, at or before a time."""
    times = [event.at for event in batch.additions if event.category in SUGARS and (until is None or event.at <= until)]
    return max(times, default=None)


def yeast_at(batch: Batch, until: datetime | None = None) -> datetime | None:
    """When yeast last went in, at or before a time, as far as it was written down."""
    times = [
        event.at
        for event in (*batch.recorded_pitches, *batch.additions)
        if getattr(event, "category", "yeast") == "yeast"
    ]
    return max((at for at in times if until is None or at <= until), default=None)


def woken_at(batch: Batch, until: datetime | None = None) -> datetime | None:
    """When sugar, yeast or another must last came in, at or before a time: what was read before proves no rest.

    Yeast finds nothing in what had read dry, as that of a bottling that is to sparkle.
    """
    yeast = yeast_at(batch, until)
    before = readings_until(batch, yeast)[-1:] if yeast is not None else ()
    dry = bool(before) and before[0].sg <= READS_DRY_SG
    times = [fed_at(batch, until), None if dry else yeast]
    if batch.mixed_on_top is not None:
        times.append(batch.mixed_on_top.at if until is None or batch.mixed_on_top.at <= until else None)
    return max((at for at in times if at is not None), default=None)


def stabilised(batch: Batch, until: datetime | None = None) -> Stabilising | None:
    """Sulfite and sorbate given about the same time and up to `until`, each with its amount; else None.

    A dose without its mass, such as of a solution, is an unknown dose and proves nothing. Neither does one that is by
    far too small for the volume on record, nor one that was given before yeast went in.
    """
    yeast = yeast_at(batch, until)
    doses = [
        event
        for event in batch.additions
        if event.category in ("sulfite", "sorbate")
        and event.g
        and (until is None or event.at <= until)
        and (yeast is None or event.at >= yeast)
    ]
    if too_small(batch, doses):
        return None
    for sorbate in reversed([dose for dose in doses if dose.category == "sorbate"]):
        for sulfite in reversed([dose for dose in doses if dose.category == "sulfite"]):
            if abs(sorbate.at - sulfite.at) <= TOGETHER:
                return Stabilising(max(sorbate.at, sulfite.at), (sulfite.id, sorbate.id))
    return None


def too_small(batch: Batch, doses: Sequence[Added]) -> bool:
    """Whether all the sulfite, or all the sorbate, of known strength comes to less than any must needs."""
    ids = {event.id for event in doses}
    for found, least in ((sulfites(batch), LEAST_SULFITE_MG_L), (sorbates(batch), LEAST_SORBATE_MG_L)):
        given = [dose.mg_per_l for dose in found if dose.event.id in ids]
        if given and None not in given and sum(mg for mg in given if mg is not None) < least:
            return True
    return False


def doses_without_amount(batch: Batch) -> tuple[str, ...]:
    """What was given of sulfite and sorbate without saying how much, in words for a finding's missing facts."""
    return tuple(
        dict.fromkeys(
            f"how much {event.category} was given"
            for event in batch.additions
            if event.category in ("sulfite", "sorbate") and not event.g
        )
    )


def readings_until(batch: Batch, until: datetime) -> tuple[Reading, ...]:
    """The readings that judgements may use, taken at or before a time."""
    return tuple(reading for reading in good_readings(batch) if reading.at <= until)


def once_stalled(batch: Batch) -> bool:
    """Whether yeast went in again: the mark of a ferment that stopped on its way."""
    yeasts = {event.id for event in batch.pitches}
    return len(yeasts | {event.id for event in batch.additions if event.category == "yeast"}) > 1


def days_needed(batch: Batch, reading: Reading | None) -> float:
    """Days of agreement before it may be called at rest: 7 for a dry, easy batch, else 14.

    Sweet, strong, cold or pitched twice is not easy; where the start gravity is not known it counts as strong.
    """
    start = batch.whole_start_sg
    strong = start is None or start > 1.110
    sweet = reading is None or reading.sg > DRY_SG
    cold = reading is not None and cold_at(batch, reading.at)
    return 14.0 if sweet or strong or cold or once_stalled(batch) else 7.0


def cold_at(batch: Batch, at: datetime) -> bool:
    """Whether the temperature of must or air, as last known at a time, lets yeast sleep; not known is not cold."""
    known = [t.celsius for t in batch.temperatures if t.at <= at]
    return bool(known) and known[-1] < COLD_C


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
    """Whether it lies in glass; a vessel whose kind is not recorded, or not known here, counts as glass."""
    kind = batch.vessel_kind
    return kind is None or "glass" in kind.lower() or NOT_OF_GLASS.search(kind) is None


@once_a_batch
def fruit_in_since(batch: Batch) -> tuple[datetime, str] | None:
    """(since when, event id) of the oldest fruit still in the vessel; None when there is none.

    Fruit leaves when it is removed or when the batch is racked.
    """
    first: tuple[datetime, str] | None = None
    # Kinds have no kinds under them; `isinstance` of such a model is many times slower over a long story.
    for event in batch.story:
        if type(event) is Mixed:
            if any(part.category == "fruit" for part in event.ingredients):
                first = (event.at, event.id)
        elif type(event) is Racked or (type(event) is Removed and kind_of(event.what)[0] not in ("oak", "spice")):
            first = None
        elif type(event) is Added and event.category == "fruit" and first is None:
            first = (event.at, event.id)
    return first
