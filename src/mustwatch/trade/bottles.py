"""How many bottles a batch fills, of which sizes, and what is left over."""

from collections.abc import Sequence
from dataclasses import dataclass

from .limits import within

RACKING_LOSS = 0.05  # of the volume; 3 to 10 % stays with the lees, common practice


@dataclass(frozen=True, slots=True)
class Filled:
    """So many bottles of one size, in mL."""

    size_ml: float
    count: int


@dataclass(frozen=True, slots=True)
class BottleCount:
    """Bottles filled by size, what is left over in mL, and what was lost on the way in L."""

    filled: tuple[Filled, ...]
    left_ml: float
    lost_l: float

    @property
    def total(self) -> int:
        return sum(lot.count for lot in self.filled)


def bottle_count(
    volume_l: float, sizes_ml: Sequence[tuple[float, int | None]], loss_share: float = RACKING_LOSS
) -> BottleCount:
    """Full bottles from a volume, largest first, with what is left in mL and lost in L.

    Range: volume 0 to 2000 L; sizes 20 to 20000 mL, each with how many there are (None: enough);
    loss 0 to 0.5 of the volume.
    Errors: ValueError outside, or with no size given.
    Formula: whole bottles of the largest size, then of the next from what is left.

    >>> bottle_count(19.0, [(750, None)]).filled
    (Filled(size_ml=750, count=24),)

    Source: arithmetic; the loss is common practice.
    """
    within("volume", volume_l, 0, 2000, "L")
    within("loss", loss_share, 0, 0.5)
    if not sizes_ml:
        raise ValueError("give at least one bottle size, as 750 or 750x12")
    lost_l = volume_l * loss_share
    left_ml = (volume_l - lost_l) * 1000
    filled = []
    for size_ml, stock in sorted(sizes_ml, key=lambda pair: -pair[0]):
        within("bottle size", size_ml, 20, 20000, "ml")
        count = int((left_ml + 1e-6) // size_ml)
        count = count if stock is None else min(count, stock)
        left_ml = max(0.0, left_ml - count * size_ml)
        filled.append(Filled(size_ml, count))
    return BottleCount(tuple(filled), left_ml, lost_l)


def bottles_needed(volume_l: float, size_ml: float, loss_share: float = 0.0) -> int:
    """Bottles to have clean and ready so that all of it finds room, a whole number.

    Range: volume 0 to 2000 L; size 20 to 20000 mL; loss 0 to 0.5.
    Errors: ValueError outside. No loss is assumed: one clean bottle too many does no harm.
    Formula: volume / size, rounded up.

    >>> bottles_needed(19.0, 750)
    26

    Source: arithmetic.
    """
    counted = bottle_count(volume_l, [(size_ml, None)], loss_share)
    return counted.total + (1 if counted.left_ml > 1 else 0)
