"""What a vessel and the bottles of a batch hold, as far as it was written down."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from mustwatch.cellar.shelf import litres_of, poured_litres
from mustwatch.ledger.events import Added, Bottled, Event, Mixed, PouredBack, Racked

MOST_LOST = 0.10  # of the volume stays with the lees, common practice; what is more than that is left in the vessel


def volume_of(filling: Sequence[Event]) -> float | None:
    """Litres in the vessel now, after all that fills or draws it; None when never recorded."""
    volume = None
    for event in filling:
        if isinstance(event, Mixed | Racked) and event.volume_l is not None:
            volume = event.volume_l
        elif isinstance(event, Racked) and volume is not None and event.lees_l is not None:
            volume -= event.lees_l
        elif isinstance(event, Added) and volume is not None and event.category in {"water", "juice", "honey"}:
            volume += event.l or 0.0
    return volume


def vessel_of(vessels: Sequence[Event], volume_l: float | None) -> dict[str, Any]:
    """The fields of a batch that tell what it lies in: kind, capacity and headspace in litres, since when."""
    last = vessels[-1] if vessels else None
    if not isinstance(last, Mixed | Racked):
        return {}
    given = "vessel" in last.model_fields_set
    capacity = last.vessel.capacity_l if given else None
    headspace = last.headspace_l if isinstance(last, Racked) else None
    if headspace is None and capacity is not None and volume_l is not None:
        headspace = round(capacity - volume_l, 3)
    return {
        "vessel_since": last.at,
        "vessel_kind": last.vessel.kind if given else None,
        "capacity_l": capacity,
        "headspace_l": headspace,
    }


def recorded_volume(story: Sequence[Event], at: datetime) -> float | None:
    """Litres in the vessel at a time, as last recorded before it; None when never recorded."""
    known = None
    for event in story:
        if event.at > at:
            break
        if isinstance(event, Mixed | Racked):
            held = event.vessel.capacity_l if "vessel" in event.model_fields_set else None
            known = event.volume_l or (min(known, held) if known and held else known)
        elif isinstance(event, PouredBack):
            known = poured_litres(story, event)
    return known


def litres_bottled(bottlings: Sequence[Bottled]) -> float:
    """Litres in all lots of these bottlings; 0 where no lot was described."""
    return sum(litres_of(event.lots) for event in bottlings)


def is_left_over(litres: float | None, bottlings: Sequence[Bottled]) -> bool:
    """Whether more than the lees, and more than one bottle, was left in the vessel; not where a figure is missing.

    What does not fill another bottle is drunk or poured away: nobody keeps it in a vessel.
    """
    bottled_l = litres_bottled(bottlings)
    if litres is None or bottled_l <= 0:
        return False
    bottle_l = max(lot.size_ml for event in bottlings for lot in event.lots) / 1000
    return litres - bottled_l > max(MOST_LOST * litres, bottle_l) + 1e-9
