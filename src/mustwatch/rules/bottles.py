"""What is known of a batch at the moment it was bottled, and of its bottles since. The worse side where nothing is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from mustwatch.batches.batch import Batch, Reading
from mustwatch.ledger.events import Bottled, Event, Lot
from mustwatch.rules.facts import (
    DRY_SG,
    Stabilising,
    days_needed,
    fed_at,
    good_readings,
    readings_until,
    stabilised,
)
from mustwatch.rules.latch import SIGNIFICANT_POINTS
from mustwatch.rules.rest import Rest, rest_of

STEADY_DAYS = 14.0
OPENED_DAYS = 60.0


@dataclass(frozen=True, slots=True)
class AtBottling:
    """The last bottling and what was proven then.

    rest: readings that agree up to it, since sugar last went in; fed: the feeding that no reading followed;
    guarded: stabilised by then; needed: days of agreement that this batch needs.
    """

    event: Bottled
    rest: Rest
    last: Reading | None
    fed: Event | None
    guarded: Stabilising | None
    needed: float

    @property
    def sg(self) -> float | None:
        """The gravity bottled, as the middle of the readings that agree; None when it is not known."""
        return self.rest.sg

    @property
    def sweet(self) -> bool | None:
        """Whether sugar was left in it; None when no reading tells."""
        if self.fed is not None:
            return True
        return None if self.sg is None else self.sg > DRY_SG + 0.0005

    @property
    def steady(self) -> bool:
        """Whether the readings had agreed long enough."""
        return self.fed is None and self.rest.days >= self.needed - 0.25

    @property
    def volume_l(self) -> float:
        """Litres that went into bottles."""
        return sum(lot.size_ml * lot.count for lot in self.event.lots) / 1000


def at_bottling(batch: Batch) -> AtBottling | None:
    """What is known of the last bottling; None when nothing is in bottles, or none is left."""
    if not batch.bottlings or (batch.bottles_made > 0 and batch.bottles_left <= 0):
        return None
    event = batch.bottlings[-1]
    readings = readings_until(batch, event.at)
    fed = fed_at(batch, event.at)
    last = readings[-1] if readings else None
    unread = fed is not None and (last is None or last.at <= fed)
    feeding = next((a for a in reversed(batch.additions) if a.at == fed), None) if unread else None
    return AtBottling(
        event=event,
        rest=rest_of(readings, fed),
        last=last,
        fed=feeding,
        guarded=stabilised(batch, event.at),
        needed=days_needed(batch, last) if last else 14.0,
    )


def glass(event: Bottled) -> bool:
    """Whether any of it went into something that can burst into pieces; not known counts as glass."""
    return not event.lots or any(lot.bottle != "pet" for lot in event.lots)


def lots_in_words(event: Bottled) -> str:
    """`12 still wine bottles of 750 ml and 3 beer bottles of 330 ml`."""
    from mustwatch.rules.words import listed

    return listed([_lot_in_words(lot) for lot in event.lots]) or "bottles not described"


def _lot_in_words(lot: Lot) -> str:
    kind = {"still-wine": "still wine ", "swing-top": "swing-top ", "pet": "PET ", "other": ""}.get(
        lot.bottle, f"{lot.bottle} "
    )
    return f"{lot.count} {kind}bottle{'' if lot.count == 1 else 's'} of {lot.size_ml:g} ml"


def steady_in_bottle(batch: Batch, bottled: AtBottling, days: float = STEADY_DAYS) -> bool:
    """Whether a reading from an opened bottle, so many days or more after bottling, shows no fall."""
    since = bottled.event.at + timedelta(days=days)
    later = [reading for reading in good_readings(batch) if reading.at >= since]
    if not later or bottled.last is None or bottled.fed is not None:
        return False
    return bottled.last.points - later[-1].points <= SIGNIFICANT_POINTS


def opened_well(batch: Batch, bottled: AtBottling) -> bool:
    """Whether bottles were opened two months or more after, and none ever burst."""
    since = [event for event in batch.story if event.at > bottled.event.at]
    if any(getattr(event, "burst", None) for event in since):
        return False
    return any(
        event.kind in ("took", "tasted")
        and event.at - bottled.event.at >= timedelta(days=OPENED_DAYS)
        and getattr(event, "why", "drunk") != "broken"
        for event in since
    )
