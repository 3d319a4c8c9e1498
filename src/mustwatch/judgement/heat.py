"""Whether bottles were held warm enough for long enough that no yeast is left in them."""

from datetime import timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.read_since import Since
from mustwatch.ledger.events import Bottled, Heated
from mustwatch.trade.pasteurise import FERMENTED_UNITS, HIGHEST_C, REFERENCE_C, pasteurisation_units

PROVEN_DAYS = timedelta(days=14)  # a bottle opened so long after the heating shows whether it held, common practice


def heating_of(batch: Batch, event: Bottled) -> Heated | None:
    """The last heating of bottles since a bottling that was enough to stop yeast; None where none was."""
    heated = [one for one in batch.heatings if one.what == "bottles" and one.at >= event.at and is_enough(one)]
    return heated[-1] if heated else None


def is_enough(heated: Heated) -> bool:
    """Whether a heating comes to 50 pasteurisation units at 60 °C or more; a time not recorded is none."""
    if heated.minutes is None or not REFERENCE_C <= heated.c <= HIGHEST_C:
        return False
    return pasteurisation_units(heated.c, heated.minutes) >= FERMENTED_UNITS


def heat_held(heated: Heated | None, since: Since) -> bool:
    """Whether a bottle opened two weeks or more after the heating read as at bottling, and none lower."""
    if heated is None or any(reading.at >= heated.at for reading in (*since.low, *since.unsure)):
        return False
    return any(reading.at - heated.at >= PROVEN_DAYS for reading in since.others)
