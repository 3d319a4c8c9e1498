"""Whether sulfite and sorbate keep what sugar is left from fermenting, and why not."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.rest import yeast_at
from mustwatch.judgement.alcohol import made_alcohol
from mustwatch.judgement.doses import sorbates, sulfites
from mustwatch.ledger.events import Added

LEAST_SULFITE_MG_L = 12.0  # nine tenths of what even pH 3.0 asks for, 13 mg/L
SORBATE_SHARE = 0.9  # of the dose asked for that will do: a kitchen scale is no better
LEAST_ABV, MOST_PH = 10.0, 3.5  # beyond either no dose of sorbate can be relied on, Underhill
TOGETHER = timedelta(days=14)  # sulfite and sorbate given so close together count as one stabilising
WINE_AFTER = timedelta(days=14)  # a must loses some tenths of pH in its first weeks
NONE_GIVEN = "no sulfite with sorbate is recorded"


class Protection(NamedTuple):
    """Sulfite and sorbate of a batch. at: since when both are in, None where they are not; ids: the two events;
    against: why they do not hold, in words, empty where they do; missing: facts taken at their worst for it."""

    at: datetime | None = None
    ids: tuple[str, ...] = ()
    against: str = NONE_GIVEN
    missing: tuple[str, ...] = ()

    @property
    def holds(self) -> bool:
        """Whether they keep the sugar, as far as records and tables tell."""
        return not self.against


def protection_of(batch: Batch, sg: float | None, until: datetime | None = None) -> Protection:
    """What keeps the sugar of a batch that reads `sg`, by what was given up to a time.

    Sulfite and sorbate count when given about the same time, after the last yeast and the last pouring back, each with
    its mass, into a volume that is on record, and enough of each. What is not known counts as the worst that the tables
    cover.
    """
    given = [
        event
        for event in batch.additions
        if event.category in ("sulfite", "sorbate") and (until is None or event.at <= until)
    ]
    if {event.category for event in given} != {"sulfite", "sorbate"}:
        return Protection()
    yeast, poured = yeast_at(batch, until), _poured_at(batch, until)
    after = [event for event in given if all(at is None or event.at >= at for at in (yeast, poured))]
    if len({event.category for event in after}) < 2:
        in_bottles = poured is not None and (yeast is None or poured > yeast)
        since = "it was poured back from its bottles" if in_bottles else "yeast went in"
        return Protection(against=f"{since} after the sulfite and the sorbate")
    pair = _together([event for event in after if event.g])
    if pair is None:
        weighed = {event.category for event in after if event.g}
        return Protection(
            against="sulfite and sorbate were given more than two weeks apart"
            if len(weighed) == 2
            else "sulfite and sorbate are recorded without their amounts"
        )
    against = _too_little_sulfite(batch, after)
    short, missing = sorbate_shortfall(batch, sg, after, until)
    return Protection(max(event.at for event in pair), tuple(event.id for event in pair), against or short, missing)


def _poured_at(batch: Batch, until: datetime | None) -> datetime | None:
    """When bottles were last poured back: air ate of the sulfite, and something had not held in them."""
    poured = [event.at for event in batch.poured_back if until is None or event.at <= until]
    return max(poured, default=None)


def _together(weighed: Sequence[Added]) -> tuple[Added, Added] | None:
    """The last sulfite and sorbate that were given about the same time."""
    for sorbate in reversed([event for event in weighed if event.category == "sorbate"]):
        for sulfite in reversed([event for event in weighed if event.category == "sulfite"]):
            if abs(sorbate.at - sulfite.at) <= TOGETHER:
                return sulfite, sorbate
    return None


def _too_little_sulfite(batch: Batch, given: Sequence[Added]) -> str:
    ids = {event.id for event in given if event.g}
    found = [dose.mg_per_l for dose in sulfites(batch) if dose.event.id in ids]
    if None in found:
        return "the volume they went into is not recorded"
    mg_per_l = sum(dose for dose in found if dose is not None)
    return "" if mg_per_l >= LEAST_SULFITE_MG_L else f"the sulfite, {mg_per_l:.0f} mg/L, is less than any must needs"


def sorbate_shortfall(
    batch: Batch, sg: float | None, given: Sequence[Added] | None = None, until: datetime | None = None
) -> tuple[str, tuple[str, ...]]:
    """(why the sorbate on record does not hold, empty where it does; facts that were taken at their worst).

    By its alcohol at the low estimate and the higher of the last two pH of the wine. given: the doses that count, else
    all of them.
    """
    from mustwatch.trade.sorbate import sorbate_dose

    ids = None if given is None else {event.id for event in given if event.g}
    found = [dose for dose in sorbates(batch) if ids is None or dose.event.id in ids]
    made = None if sg is None else made_alcohol(batch, sg)
    ph = wine_ph(batch, until)
    missing = tuple(
        fact
        for fact, known in (("the start gravity, for its alcohol", made), ("the pH of the wine", ph))
        if known is None
    )
    if made is not None and made.low < LEAST_ABV:
        return f"at about {made.low:.0f} % vol no dose of sorbate can be relied on", missing
    if ph is not None and ph > MOST_PH:
        return f"at pH {ph:.2f} no dose of sorbate can be relied on", missing
    if any(dose.mg_per_l is None for dose in found):
        return "how much sorbate that is in each litre is not known", missing
    mg_per_l = sum(dose.mg_per_l or 0.0 for dose in found)
    asked = sorbate_dose(min(25.0, made.low) if made else LEAST_ABV, MOST_PH if ph is None else max(2.5, ph))
    if mg_per_l < asked * SORBATE_SHARE:
        return f"the sorbate, {mg_per_l:.0f} mg/L, is less than the {asked:.0f} mg/L asked for", missing
    return "", missing


def wine_ph(batch: Batch, until: datetime | None = None) -> float | None:
    """The higher of the last two pH measured since the must became wine; None where none was."""
    pitched = batch.pitched
    found = [
        measure.value
        for measure in batch.measures
        if measure.what == "ph"
        and (pitched is None or measure.at - pitched.at >= WINE_AFTER)
        and (until is None or measure.at <= until)
    ]
    return max(found[-2:], default=None)
