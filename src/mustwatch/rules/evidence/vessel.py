"""What a batch lies in, and the fruit that lies in it."""

import re
from datetime import datetime

from mustwatch.cellar.batch import Batch, per_batch
from mustwatch.entry.substance import kind_of
from mustwatch.ledger.events import Added, Mixed, PouredBack, Racked, Removed
from mustwatch.rules.view import View

NOT_OF_GLASS = re.compile(
    r"\b(bucket|pail|barrel|cask|keg|drum|tank|pot|kettle|crock|steel|stainless|plastic|pet|oak|wood\w*)s?\b", re.I
)


MOST_AIR_PCT = 6.0  # of the vessel, in ageing; a judgement from a few centimetres below the bung, common practice
FILL_FIRST = "Fill the vessel, or rack it into a smaller one. Air over the drink uses sulfite up."


def too_much_air(view: View) -> bool:
    """Whether so much air stands over it that sulfite would be used up by it; False where that is not known."""
    batch = view.batch
    if batch.headspace_l is None or not batch.capacity_l:
        return False
    most = view.settings.threshold("air-over-ageing", "share", MOST_AIR_PCT)
    return batch.headspace_l / batch.capacity_l * 100 > most


def fill_first(view: View) -> tuple[str, ...]:
    """The step that comes before any sulfite, where too much air stands over it; else none."""
    return (FILL_FIRST,) if too_much_air(view) else ()


def sulfite_form(view: View) -> tuple[str, str]:
    """The form of what is done first about a lack of sulfite: it is not offered under too much air."""
    return ("rack", "") if too_much_air(view) else ("add", "sulfite")


def in_glass(batch: Batch) -> bool:
    """Whether it lies in glass; a vessel whose kind is not recorded, or not known here, counts as glass."""
    kind = batch.vessel_kind
    return kind is None or "glass" in kind.lower() or NOT_OF_GLASS.search(kind) is None


@per_batch
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
        elif type(event) in (Racked, PouredBack) or (
            type(event) is Removed and kind_of(event.what)[0] not in ("oak", "spice")
        ):
            first = None
        elif type(event) is Added and event.category == "fruit" and first is None:
            first = (event.at, event.id)
    return first
