"""Where a batch should have come at least, and what might still ferment in it."""

from typing import NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.trade.strength import DRY_STRONG_SG, DRY_WEAK_SG, POINTS_PER_ABV, STRONG_ABV, expected_end

STALL_ABOVE = 10.0  # points above the least end at which a stand is no end
MARK_SG = 0.0005  # half a mark: what reads so is there


class Ending(NamedTuple):
    """The end of a batch as far as its start and its yeast tell it. Gravities in SG.

    dry_low, dry_high: of a ferment that takes all; least: where its yeast should have come at least, the gravity at
    which one of the upper tolerance would have stopped, less one % vol; done: at or below it the yeast has done what
    it is said to do, by its own stated tolerance, else as `least`; both None without start gravity or yeast;
    missing: facts not recorded.
    """

    dry_low: float
    dry_high: float
    least: float | None = None
    done: float | None = None
    missing: tuple[str, ...] = ()

    def above(self, sg: float) -> float:
        """Points above the least end; 0 at or below it, and where it is not known."""
        return 0.0 if self.least is None else max(0.0, (sg - self.least) * 1000)

    def reached(self, sg: float) -> bool:
        """Whether a gravity is an end: dry, or as far as the yeast is said to go."""
        return sg <= max(self.dry_high, self.done or 0.0) + MARK_SG

    def may_hold(self, sg: float, error: float) -> float:
        """Points that could still ferment at most, at a gravity with its error in SG."""
        return max(0.0, (sg + error - self.dry_low) * 1000)


def ending_of(batch: Batch) -> Ending:
    """The end of a batch, sugar fed on the way counted as if there from the start."""
    start, yeast = batch.whole_start_sg, batch.yeast
    missing = _missing(batch)
    if start is None or not 1.0 <= start <= 1.3:
        return Ending(*DRY_STRONG_SG, missing=missing)
    weak = (start - 1.0) * POINTS_PER_ABV < STRONG_ABV
    dry_low, dry_high = DRY_WEAK_SG if weak else DRY_STRONG_SG
    if not of_honey(batch):
        dry_low = min(dry_low, DRY_STRONG_SG[0])  # only honey is known to leave so much behind
    if yeast is None:
        return Ending(dry_low, dry_high, missing=missing)
    least = _stop(start, yeast.tolerance_high, dry_high)
    done = least if yeast.tolerance_assumed else _stop(start, yeast.tolerance_low, dry_high)
    return Ending(dry_low, dry_high, least, done, missing)


def of_honey(batch: Batch) -> bool:
    """Whether honey is among what it was mixed from."""
    return batch.mixed is not None and any(part.category == "honey" for part in batch.mixed.ingredients)


def _stop(start: float, tolerance_abv: float, dry_high: float) -> float:
    """The highest gravity at which a yeast of just this tolerance may end."""
    # Fed batches add up to more than any one must can hold: the formula is linear there.
    held, tolerance = min(start, 1.2), min(max(tolerance_abv, 3.0), 25.0)
    _, high = expected_end(held, tolerance, tolerance)
    return high + start - held if high > dry_high else high


def _missing(batch: Batch) -> tuple[str, ...]:
    missing = []
    if batch.start_sg is None:
        missing.append("start gravity")
    elif batch.start is None:
        missing.append("start gravity (reckoned from the recipe)")
    if batch.yeast is None or batch.yeast.tolerance_assumed:
        missing.append("the yeast's tolerance")
    return tuple(missing)
