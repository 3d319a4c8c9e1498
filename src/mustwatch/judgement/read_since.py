"""What bottles have read since a bottling, held against what their lot read then.

A reading after bottling is one of a bottle: of the lot whose level it fits, else of any. In a vessel that still holds
some, the same drink is read until something goes in there.
"""

from collections.abc import Iterator
from datetime import datetime
from typing import NamedTuple

from mustwatch.cellar.batch import Batch, Reading, per_batch
from mustwatch.cellar.lives import WOKEN_BY
from mustwatch.cellar.rest import SIGNIFICANT_POINTS
from mustwatch.judgement.proof import proof_of
from mustwatch.ledger.events import Bottled


class Since(NamedTuple):
    """Readings of bottles since a bottling, oldest first.

    level: what the lot read at bottling, in points, else the first bottle did; None where nothing was read.
    low: those below it by more than the error of two readings; unsure: of these, those that fit another lot's level;
    others: those that are not low.
    """

    level: float | None = None
    low: tuple[Reading, ...] = ()
    unsure: tuple[Reading, ...] = ()
    others: tuple[Reading, ...] = ()

    @property
    def answered(self) -> bool:
        """Whether the last bottle read no lower than the lot."""
        return bool(self.others) and (not self.unsure or self.others[-1].at > self.unsure[-1].at)


def read_since(batch: Batch, event: Bottled) -> Since:
    """What bottles have read since one bottling of the batch.

    What was to sparkle by the sugar left in it must fall: there nothing is low.
    """
    return next((since for bottled, since in _since(batch) if bottled.id == event.id), Since())


@per_batch
def _since(batch: Batch) -> tuple[tuple[Bottled, Since], ...]:
    read = [(event, _readings(batch, event)) for event in batch.bottlings]
    levels = [_level(batch, event, readings) for event, readings in read]
    return tuple(
        (event, _held(event, level, readings, levels)) for (event, readings), level in zip(read, levels, strict=True)
    )


def _held(event: Bottled, level: float | None, readings: list[Reading], others: list[float | None]) -> Since:
    low, unsure, well = [], [], []
    for reading in readings:
        if level is None or not _below(level, reading) or _is_to_fall(event):
            well.append(reading)
        elif any(_fits_another(level, other, reading) for other in others):
            unsure.append(reading)
        else:
            low.append(reading)
    return Since(level, tuple(low), tuple(unsure), tuple(well))


def _below(level: float, reading: Reading) -> bool:
    return level - reading.points > SIGNIFICANT_POINTS


def _fits_another(level: float, other: float | None, reading: Reading) -> bool:
    """Whether another lot, bottled truly lower than this one, read as the bottle does."""
    if other is None or level - other <= SIGNIFICANT_POINTS:
        return False
    return abs(other - reading.points) <= SIGNIFICANT_POINTS


def _is_to_fall(event: Bottled) -> bool:
    return event.style == "sparkling" and (event.priming is None or event.priming.g <= 0)


def _level(batch: Batch, event: Bottled, readings: list[Reading]) -> float | None:
    sg = proof_of(batch, event.at).sg
    return (sg - 1) * 1000 if sg is not None else readings[0].points if readings else None


def _readings(batch: Batch, event: Bottled) -> list[Reading]:
    """The readings that tell of its drink; of two of one instant the later written."""
    woken = sorted(_woken(batch))
    found = {
        reading.at: reading
        for reading in batch.good_readings
        if reading.at > event.at and not reading.floating and not _is_of_vessel(batch, event, reading, woken)
    }
    return list(found.values())


def _woken(batch: Batch) -> Iterator[datetime]:
    """When something went into the vessel that changes what is read there."""
    yield from (added.at for added in batch.additions if added.category in WOKEN_BY | {"water"})
    yield from (pitched.at for pitched in batch.pitches)
    yield from (poured.at for poured in batch.poured_back)
    if batch.mixed_on_top is not None:
        yield batch.mixed_on_top.at


def _is_of_vessel(batch: Batch, event: Bottled, reading: Reading, woken: list[datetime]) -> bool:
    """Whether it was taken while another drink than the bottled one lay in the vessel."""
    since = [at for at in woken if event.at < at <= reading.at]
    return bool(since) and not any(since[-1] < later.at <= reading.at for later in batch.bottlings)
