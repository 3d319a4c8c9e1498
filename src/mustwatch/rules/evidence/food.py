"""How far the sugar has gone, and the food a batch was given: nitrogen in mg a litre."""

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.cellar.rest import readings_until
from mustwatch.entry.substance import DAP_MG_PER_G, kind_of
from mustwatch.judgement.doses import volume_at
from mustwatch.ledger.events import Added
from mustwatch.said.dates import day


class Feeding(NamedTuple):
    """One dose of yeast food. mg_per_l: nitrogen, None when mass, content or volume is not recorded."""

    event: Added
    mg_per_l: float | None


def feedings(batch: Batch) -> list[Feeding]:
    """The doses of yeast food, oldest first."""
    return [Feeding(event, _nitrogen(batch, event)) for event in batch.additions if event.category == "nutrient"]


def is_dap(event: Added) -> bool:
    """Whether a dose is diammonium phosphate, by its name."""
    return kind_of(event.what)[1] == DAP_MG_PER_G


def _nitrogen(batch: Batch, event: Added) -> float | None:
    volume_l = volume_at(batch, event.at)
    content = event.nitrogen_mg_per_g
    if content is None:
        content = kind_of(event.what)[1]
    if content is None or not event.g or not volume_l:
        return None
    return event.g * content / volume_l


def total_mg_per_l(doses: Sequence[Feeding]) -> float:
    """Nitrogen of all doses whose amount is known, in mg/L."""
    return sum(dose.mg_per_l or 0.0 for dose in doses)


def unknown_doses(doses: Sequence[Feeding], now: datetime) -> tuple[str, ...]:
    """The missing facts of doses, in words."""
    missing = []
    for dose in doses:
        if dose.mg_per_l is None:
            lacking = "mass" if not dose.event.g else "nitrogen content, or the volume it went into"
            missing.append(f"the {lacking} of the food given on {day(dose.event.at, now)}")
    return tuple(dict.fromkeys(missing))


def share_left(batch: Batch, reading: Reading | None) -> float | None:
    """Gravity points at a reading as a share of those at the start; None when either is not known."""
    start = batch.whole_start_sg
    if reading is None or start is None or start <= 1.005:
        return None
    return reading.points / ((start - 1) * 1000)


def share_left_for_sure(batch: Batch, at: datetime | None = None) -> float | None:
    """The larger share of the last two readings up to a time: what two readings agree to have been left."""
    readings = batch.good_readings if at is None else readings_until(batch, at)
    shares = [share for reading in readings[-2:] if (share := share_left(batch, reading)) is not None]
    return max(shares) if len(shares) == 2 else None


def only_honey(batch: Batch) -> bool:
    """Whether the recipe is on record and holds nothing but honey, sugar and water that would feed yeast."""
    if batch.mixed is None or not batch.mixed.ingredients:
        return False
    kinds = {part.category for part in batch.mixed.ingredients} | {event.category for event in batch.additions}
    return "honey" in kinds and not kinds & {"fruit", "juice"}


def past_feeding(batch: Batch) -> bool:
    """Whether two readings agree that half the sugar is gone, so that food is no longer taken up."""
    left = share_left_for_sure(batch)
    return left is not None and left < 0.5


def past_break(batch: Batch) -> bool:
    """Whether two readings agree that a third of the sugar is gone."""
    left = share_left_for_sure(batch)
    return left is not None and left <= 2 / 3
