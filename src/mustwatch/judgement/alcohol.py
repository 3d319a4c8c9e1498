"""The alcohol a batch has made so far, once, for every page that tells it, and whether that is strong."""

from functools import lru_cache
from typing import NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.rest import fed_at
from mustwatch.trade.strength import alcohol_range

ESTIMATED_START_SG = 0.010  # a start reckoned from the recipe is good to ten points either way
STRONG_START_SG = 1.110
STRONG_ABV = 14.0  # % vol; above either a slow tail hides for longer, common practice


class Made(NamedTuple):
    """Alcohol in % vol: a fair range, and what is likeliest."""

    low: float
    best: float
    high: float


def alcohol_now(batch: Batch) -> Made | None:
    """The alcohol made by the last reading; None without a reading below the start since sugar last came in."""
    latest, start = batch.latest, batch.whole_start_sg
    if latest is None or start is None or latest.sg >= start or fed_since_read(batch):
        return None
    return made_alcohol(batch, latest.sg)


def fed_since_read(batch: Batch) -> bool:
    """Whether sugar, or another must, came in and no gravity was read after it."""
    fed, again = fed_at(batch), batch.mixed_on_top
    fresh = [at for at in (fed, again.at if again else None) if at is not None]
    return batch.latest is not None and any(at >= batch.latest.at for at in fresh)


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


def is_strong(batch: Batch, sg: float) -> bool:
    """Whether it began above 1.110, or may hold more than 14 % vol at a gravity; not known counts as strong."""
    start, made = batch.whole_start_sg, made_alcohol(batch, sg)
    return start is None or made is None or start > STRONG_START_SG or made.high > STRONG_ABV


@lru_cache(maxsize=4096)
def _alcohol(start: float, sg: float) -> tuple[float, float, float]:
    # The ends of the trade's range meet any value a log may hold.
    held = alcohol_range(min(max(start, 1.0), 1.2), min(max(sg, 0.97), 1.2))
    return held.low, held.best, held.high
