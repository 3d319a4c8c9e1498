"""When a batch usually begins to drink well, and how long its like usually keeps.

By strength: up to 8 % vol from one month, to 12 % from three, to 14 % from six, above from twelve months after
pitching; it keeps for one, two, four and six years after bottling, twice the upper end of the usual ageing window.
Ageing windows: common practice of hobbyists, low to medium confidence. They are habits, not laws: good ones keep for
ten years, and only tasting tells.

Sweetness: that a sweeter one is drinkable sooner is common practice. That it comes as soon as one of the next weaker
class is this program's reading of that, low confidence. Sweet is 1.010 or more at bottling, where tasting guides end
what they call dry (from memory).

Style: a sparkling one needs its weeks in the bottle first, four in a beer bottle (common practice, two to four) and two
months in one for sparkling wine (Oxford Companion to Wine, second fermentation, from memory).
"""

from datetime import datetime, timedelta
from typing import NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.rest import readings_until
from mustwatch.judgement.alcohol import alcohol_now
from mustwatch.ledger.events import Bottled

MONTH = timedelta(days=30.44)
FROM_MONTHS = ((8.0, 1), (12.0, 3), (14.0, 6), (100.0, 12))  # (up to % vol, months from the pitching)
UNTIL_MONTHS = ((8.0, 12), (12.0, 24), (14.0, 48), (100.0, 72))  # (up to % vol, months from the bottling)
SWEET_SG = 1.010
SPARKLING_DAYS, SPARKLING_WINE_DAYS = 28, 61


class Window(NamedTuple):
    """From when a lot usually drinks well, and until when its like usually keeps; None where that cannot be said.

    abv: % vol it was judged by, the low estimate; sweet: whether it counted as sweet; missing: what is not known.
    """

    start: datetime | None
    end: datetime | None
    abv: float | None = None
    sweet: bool = False
    missing: tuple[str, ...] = ()


def window_of(batch: Batch, bottled: Bottled) -> Window:
    """When a bottling is at its best, by strength, sweetness and style."""
    made = alcohol_now(batch)
    if made is None:
        return Window(None, None, missing=("its strength",))
    sweet = _is_sweet(_sg_bottled(batch, bottled))
    return Window(
        start=_start(batch, bottled, made.low, sweet),
        end=bottled.at + _months(UNTIL_MONTHS, made.low) * MONTH,
        abv=made.low,
        sweet=sweet,
        missing=() if batch.pitched else ("when it was pitched",),
    )


def ready_from(batch: Batch) -> datetime | None:
    """When the last bottling of a batch usually begins to drink well; None where that is not known.

    The lower estimate of the alcohol counts: nothing is called too early on a guess.
    """
    made = alcohol_now(batch)
    if made is None or not batch.bottlings:
        return None
    bottled = batch.bottlings[-1]
    return _start(batch, bottled, made.low, _is_sweet(_sg_bottled(batch, bottled)))


def _start(batch: Batch, bottled: Bottled, abv: float, sweet: bool) -> datetime | None:
    if batch.pitched is None:
        return None
    months = _months(FROM_MONTHS, abv)
    grown = batch.pitched.at + (_one_class_sooner(months) if sweet else months) * MONTH
    return max(grown, bottled.at + _working(bottled))


def _sg_bottled(batch: Batch, bottled: Bottled) -> float | None:
    """The gravity it was bottled at: the last one read till then; None where none was."""
    read = readings_until(batch, bottled.at)
    return read[-1].sg if read else None


def _months(table: tuple[tuple[float, int], ...], abv: float) -> int:
    return next(months for most, months in table if abv <= most)


def _one_class_sooner(months: int) -> int:
    known = [number for _, number in FROM_MONTHS]
    return known[max(0, known.index(months) - 1)]


def _is_sweet(sg: float | None) -> bool:
    return sg is not None and sg >= SWEET_SG


def _working(bottled: Bottled) -> timedelta:
    """How long a sparkling bottling works in its bottles before it is worth opening."""
    if bottled.style != "sparkling" and (bottled.priming is None or bottled.priming.g <= 0):
        return timedelta(0)
    wine = any(lot.bottle == "sparkling" for lot in bottled.lots)
    return timedelta(days=SPARKLING_WINE_DAYS if wine else SPARKLING_DAYS)
