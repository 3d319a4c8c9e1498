"""Where a batch should end, and what might still ferment in it."""

from __future__ import annotations

from dataclasses import dataclass

from mustwatch.cellar.batch import Batch, YeastLimits
from mustwatch.trade.strength import DRY_STRONG_SG, DRY_WEAK_SG, POINTS_PER_ABV, STRONG_ABV, expected_end


@dataclass(frozen=True, slots=True)
class Ending:
    """The expected end as far as known. Gravities in SG, alcohol in % vol.

    low, high: the interval, None without start gravity or yeast; dry_low, dry_high: of a ferment that takes all;
    stop: the gravity at which a yeast of the upper tolerance would have stopped, less one % vol;
    missing: facts not recorded.
    """

    dry_low: float
    dry_high: float
    low: float | None = None
    high: float | None = None
    stop: float | None = None
    tolerance_stated: bool = False
    missing: tuple[str, ...] = ()


def ending_of(batch: Batch) -> Ending:
    """The expected end of a batch, sugar fed on the way counted as if there from the start."""
    start = batch.whole_start_sg
    missing = _missing(batch)
    if start is None or not 1.0 <= start <= 1.3:
        return Ending(DRY_STRONG_SG[0], DRY_STRONG_SG[1], missing=missing)
    weak = (start - 1.0) * POINTS_PER_ABV < STRONG_ABV
    dry_low, dry_high = DRY_WEAK_SG if weak else DRY_STRONG_SG
    if not of_honey(batch):
        dry_low = min(dry_low, DRY_STRONG_SG[0])  # only honey is known to leave so much behind
    yeast = batch.yeast
    if yeast is None:
        return Ending(dry_low, dry_high, missing=missing)
    low, high = _interval(start, yeast)
    stop = max(dry_high, start - (yeast.tolerance_high - 1.0) / POINTS_PER_ABV)
    return Ending(dry_low, dry_high, low, high, stop, not yeast.tolerance_assumed, missing)


def of_honey(batch: Batch) -> bool:
    """Whether honey is among what it was mixed from."""
    return batch.mixed is not None and any(part.category == "honey" for part in batch.mixed.ingredients)


def _interval(start: float, yeast: YeastLimits) -> tuple[float, float]:
    # Fed batches add up to more than any one must can hold: the formula is linear there.
    held = min(start, 1.2)
    bounds = min(max(yeast.tolerance_low, 3.0), 25.0), min(max(yeast.tolerance_high, 3.0), 25.0)
    low, high = expected_end(held, min(bounds), max(bounds))
    return low + start - held if low > 1.0 else low, high + start - held if high > 1.0 else high


def _missing(batch: Batch) -> tuple[str, ...]:
    missing = []
    if batch.start_sg is None:
        missing.append("start gravity")
    elif batch.start is None:
        missing.append("start gravity (reckoned from the recipe)")
    if batch.yeast is None or batch.yeast.tolerance_assumed:
        missing.append("the yeast's tolerance")
    return tuple(missing)
