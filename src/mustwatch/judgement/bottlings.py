"""What is known of a batch at the moment it was bottled, and of its bottles since. The worse side where nothing is."""

from datetime import datetime, timedelta
from typing import NamedTuple

from mustwatch.cellar.batch import Batch, Reading, per_batch
from mustwatch.cellar.lives import WOKEN_BY
from mustwatch.cellar.rest import READS_DRY_SG, SIGNIFICANT_POINTS, fed_at, readings_until, woken_at
from mustwatch.judgement.heat import heat_held, heating_of
from mustwatch.judgement.proof import Proof, proof_of
from mustwatch.judgement.read_since import Since, read_since
from mustwatch.ledger.events import Added, Bottled, Event, Heated

STEADY_DAYS = 14.0
OPENED_DAYS = 60.0
WAKING_KINDS = ("added", "pitched", "mixed", "poured_back")


class AtBottling(NamedTuple):
    """One bottling and what was proven then.

    proof: by the readings up to it, since sugar, yeast, water or another must last went in; last: the last reading up
    to it; woken_by: what went in so that no reading followed, or sugar or yeast that was written down only after the
    bottling; since: what opened bottles read; heated: by what heat, enough to stop yeast, it was pasteurised.
    """

    event: Bottled
    proof: Proof
    last: Reading | None
    woken_by: Event | None
    since: Since = Since()
    heated: Heated | None = None

    @property
    def sg(self) -> float | None:
        """The gravity bottled: the middle of the readings that agree, else the last one; None when it is not known."""
        return self.proof.sg

    @property
    def sweet(self) -> bool | None:
        """Whether sugar was left in it; None when no reading tells."""
        if self.woken_by is not None and self.woken_by.kind != "poured_back":
            return True
        return None if self.sg is None else self.sg > READS_DRY_SG

    @property
    def steady(self) -> bool:
        """Whether the readings had agreed long enough."""
        return self.woken_by is None and self.proof.steady

    @property
    def fell(self) -> bool:
        """Whether two readings of opened bottles lie below it: then it ferments, whatever was proven before."""
        return len(self.since.low) > 1

    @property
    def heat_held(self) -> bool:
        """Whether its bottles were pasteurised, and one opened two weeks later read no lower."""
        return not self.fell and heat_held(self.heated, self.since)

    @property
    def safe(self) -> bool:
        """Whether nothing in it can ferment, as far as was proven: steady, and dry or protected, and never lower."""
        kept = self.steady and (self.sweet is False or self.proof.protection.holds)
        return not self.fell and (kept or self.heat_held)

    @property
    def primed(self) -> bool:
        """Whether it was primed, and with more than nothing."""
        return self.event.priming is not None and self.event.priming.g > 0

    @property
    def evidence(self) -> tuple[str, ...]:
        """Ids of what tells how it was bottled: readings that agree, the last one, what woke it, the bottling."""
        others = (self.last, self.woken_by, self.event)
        return (*self.proof.rest.ids, *(told.id for told in others if told is not None))


@per_batch
def at_bottlings(batch: Batch) -> tuple[AtBottling, ...]:
    """What is known of each bottling, oldest first; nothing when no bottle is left.

    Nobody writes down of which lot a bottle was taken, so each lot counts as there while any bottle is.
    """
    return tuple(_at(batch, event) for event in batch.on_shelf)


def at_bottling(batch: Batch) -> AtBottling | None:
    """What is known of the last bottling; None when nothing is in bottles, or none is left."""
    bottlings = at_bottlings(batch)
    return bottlings[-1] if bottlings else None


def _at(batch: Batch, event: Bottled) -> AtBottling:
    readings = readings_until(batch, event.at)
    last = readings[-1] if readings else None
    # Never read at all is another cause than read and then woken.
    since = woken_at(batch, event.at) if last is not None else fed_at(batch, event.at)
    woken_by = _woke(batch, since) if since is not None and (last is None or last.at <= since) else None
    if event.id == batch.bottlings[-1].id:
        # What was added to no vessel that is known may have gone in before the corks, and be dated wrongly.
        woken_by = woken_by or next((a for a in batch.astray if a.category in WOKEN_BY), None)
    heated = heating_of(batch, event)
    return AtBottling(event, proof_of(batch, event.at), last, woken_by, read_since(batch, event), heated)


def _woke(batch: Batch, at: datetime) -> Event | None:
    woken = [event for event in batch.story if event.at == at and event.kind in WAKING_KINDS]
    woken_by = WOKEN_BY | {"water"}
    return next((event for event in woken if not isinstance(event, Added) or event.category in woken_by), None)


def what_went_in(event: Event) -> str:
    """What was added or pitched, or that it was mixed again or poured back, as a thing that went in."""
    kinds = {"pitched": "yeast", "poured_back": "what was in bottles"}
    return getattr(event, "what", None) or kinds.get(event.kind, "another must")


def glass(event: Bottled) -> bool:
    """Whether any of it went into something that can burst into pieces; not known counts as glass."""
    return not event.lots or any(lot.bottle != "pet" for lot in event.lots)


def steady_in_bottle(batch: Batch, bottled: AtBottling, days: float = STEADY_DAYS) -> bool:
    """Whether a reading from an opened bottle, so many days or more after bottling, shows no fall."""
    since = bottled.event.at + timedelta(days=days)
    later = [reading for reading in batch.good_readings if reading.at >= since]
    if not later or bottled.last is None or bottled.woken_by is not None:
        return False
    return bottled.last.points - later[-1].points <= SIGNIFICANT_POINTS


def rests_in_bottles(batch: Batch, bottled: AtBottling) -> bool:
    """Whether a bottling was proven to be at rest: before it, or by its own bottles since."""
    return bottled.steady or bottled.heat_held or steady_in_bottle(batch, bottled)


def is_safe_in_bottles(batch: Batch) -> bool:
    """Whether nothing in any of its bottles can ferment, as far as was proven."""
    return all(
        rests_in_bottles(batch, bottled)
        and not bottled.fell
        and (bottled.sweet is False or bottled.proof.protection.holds or bottled.heat_held)
        for bottled in at_bottlings(batch)
    )


def opened_well(batch: Batch, bottled: AtBottling) -> bool:
    """Whether bottles were opened two months or more after, and none ever burst."""
    since = [event for event in batch.story if event.at > bottled.event.at]
    if any(getattr(event, "burst", None) for event in since):
        return False
    return any(
        event.kind in ("took", "tasted")
        and event.at - bottled.event.at >= timedelta(days=OPENED_DAYS)
        and getattr(event, "why", "drunk") in ("drunk", "tested")
        for event in since
    )
