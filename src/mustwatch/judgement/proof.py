"""What must be proven before a batch is closed: at rest for as long as it needs, and dry or protected."""

from datetime import datetime
from typing import NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.rest import READS_DRY_SG, TWO_WEEKS_DAYS, WEEK_DAYS, Rest, readings_until, resting, resting_at
from mustwatch.judgement.alcohol import is_strong
from mustwatch.judgement.motion import stalled_before
from mustwatch.judgement.protected import Protection, protection_of

COLD_C = 10.0  # below it yeast sleeps, and equal readings say less


class Needed(NamedTuple):
    """Days of agreement, and what makes them more than a week, in words."""

    days: int
    because: tuple[str, ...] = ()


class Proof(NamedTuple):
    """What is proven of a batch: the readings that agree, how long they must, and what keeps its sugar.

    sg: the middle of the readings that agree, else what was read last; None when it was never read.
    """

    sg: float | None = None
    rest: Rest = Rest()
    needed: Needed = Needed(TWO_WEEKS_DAYS)
    protection: Protection = Protection()

    @property
    def steady(self) -> bool:
        """Whether the readings have agreed for as long as this batch needs."""
        return self.rest.lasts(self.needed.days)

    @property
    def dry(self) -> bool:
        """Whether it reads dry; what once proved dry stays so while the readings stay within their noise of it."""
        return self.rest.sg is not None and self.rest.sg <= READS_DRY_SG

    @property
    def safe(self) -> bool:
        """Whether it may be closed: steady, and dry or protected."""
        return self.steady and (self.dry or self.protection.holds)


def proof_of(batch: Batch, until: datetime | None = None) -> Proof:
    """What is proven of a batch now, or was at a time."""
    rest = resting(batch) if until is None else resting_at(batch, until)
    read = batch.good_readings if until is None else readings_until(batch, until)
    sg = rest.sg if rest.readings else read[-1].sg if read else None
    return Proof(sg, rest, days_needed(batch, rest, until), protection_of(batch, sg, until))


def days_needed(batch: Batch, rest: Rest, until: datetime | None = None) -> Needed:
    """A week for a dry, easy batch, else two: one that is sweet, strong or cold, was pitched twice or has stalled.

    rest: the readings that agree, as it stood at `until` where that is given. A start that is not known is strong.
    """
    if not rest.readings or rest.sg is None:
        return Needed(TWO_WEEKS_DAYS, ("it was not read",))
    because = tuple(
        words
        for words, so in (
            ("it is sweet", rest.sg > READS_DRY_SG),
            ("its start gravity is not known", batch.whole_start_sg is None),
            ("it is strong", batch.whole_start_sg is not None and is_strong(batch, rest.sg)),
            ("it is cold", cold_at(batch, rest.readings[-1].at)),
            ("it was pitched twice", pitched_twice(batch)),
        )
        if so
    )
    if not because and stalled_before(batch, until):
        because = ("it has stalled before",)
    return Needed(TWO_WEEKS_DAYS if because else WEEK_DAYS, because)


def cold_at(batch: Batch, at: datetime) -> bool:
    """Whether must or air, whichever was measured last up to a time, lets yeast sleep; not known is not cold."""
    known = [temperature.celsius for temperature in batch.temperatures if temperature.at <= at]
    return bool(known) and known[-1] < COLD_C


def pitched_twice(batch: Batch) -> bool:
    """Whether yeast went in again: the mark of a ferment that stopped on its way."""
    yeasts = {event.id for event in batch.pitches}
    return len(yeasts | {event.id for event in batch.additions if event.category == "yeast"}) > 1
