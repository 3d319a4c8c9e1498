"""The alcohol a batch has made so far, once, for every page that tells it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from mustwatch.cellar.batch import Batch
from mustwatch.trade.strength import alcohol_range

ESTIMATED_START_SG = 0.010  # a start reckoned from the recipe is good to ten points either way


@dataclass(frozen=True, slots=True)
class Made:
    """Alcohol in % vol: a fair range, and what is likeliest."""

    low: float
    best: float
    high: float


def made_alcohol(batch: Batch, sg: float) -> Made | None:
    """The alcohol made when the batch reads `sg`, None without a start gravity.

    Where the start is only estimated from the recipe, the range is as wide as that estimate.
    """
    start = batch.whole_start_sg
    if start is None:
        return None
    slack = 0.0 if batch.start is not None else ESTIMATED_START_SG
    sg = round(sg, 4)
    low, _, _ = _alcohol(round(start - slack, 4), sg)
    _, best, _ = _alcohol(round(start, 4), sg)
    _, _, high = _alcohol(round(start + slack, 4), sg)
    return Made(low, best, high)


@lru_cache(maxsize=4096)
def _alcohol(start: float, sg: float) -> tuple[float, float, float]:
    # The ends of the trade's range meet any value a log may hold.
    held = alcohol_range(min(max(start, 1.0), 1.2), min(max(sg, 0.97), 1.2))
    return held.low, held.best, held.high
