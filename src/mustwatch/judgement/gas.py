"""The gas in a closed batch and still to come: one reckoning for rules, outlook and forms."""

from datetime import datetime
from typing import NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.course import mass_points
from mustwatch.cellar.ending import ending_of
from mustwatch.judgement.alcohol import made_alcohol
from mustwatch.judgement.bottlings import AtBottling, at_bottlings, what_went_in
from mustwatch.judgement.doses import volume_at
from mustwatch.judgement.proof import proof_of
from mustwatch.ledger.events import Added, Lot, Mixed, PouredBack, Racked
from mustwatch.ledger.settings import Settings
from mustwatch.trade.carbonation import VOLUMES_PER_POINT, residual_volumes, volumes_from_sugar
from mustwatch.trade.pressure import bottle_rating_bar, bottle_rating_volumes, gauge_bar

COLD_CELLAR_C = 10.0  # where no temperature is on record the drink may hold as much gas as at this one
UNKNOWN_VOLUME_L = 1.0  # where nobody wrote down how much was bottled: priming sugar is weighed out by the litre
WARMEST_C = 30.0  # the warmest that bottles and kegs may ever stand
UNRATED_VOLUMES = 0.5  # so much made in a bottle or vessel rated for nothing is not noticed
UNDESCRIBED = (Lot(size_ml=1000, count=1),)  # a bottle of which nobody wrote down anything
MOST_ABV = 20.0  # alcohol where neither start nor yeast tells: the more of it, the less gas the drink holds


class Gas(NamedTuple):
    """Gas of a closed batch, in volumes of CO2 at 0 °C and 1 atm.

    held: in the drink already; primed: what its priming sugar makes; sugar: what the sugar left, or fed, makes at most,
    nothing where it is proven to be at rest and dry or protected; abv: % vol it is reckoned with;
    missing: facts that were taken at their worst.
    """

    held: float
    primed: float
    sugar: float
    abv: float
    missing: tuple[str, ...] = ()

    @property
    def made(self) -> float:
        """Volumes still to come, at most."""
        return self.primed + self.sugar

    def bar(self, temp_c: float) -> float:
        """Bar gauge at a temperature once all of it is made."""
        return gauge_bar(min(100.0, self.held + self.made), temp_c, self.abv)


def gas_in_bottles(batch: Batch, bottled: AtBottling) -> Gas | None:
    """The gas of one bottling; None where no gravity was ever read."""
    if bottled.sg is None or bottled.last is None:
        return None
    points, missing = 0.0, []
    stopped = bottled.heated is not None and not bottled.fell
    if not bottled.safe and not stopped:
        points = ending_of(batch).may_hold(bottled.sg, bottled.last.error)
        if isinstance(bottled.woken_by, Added):
            fed = mass_points(bottled.woken_by, volume_at(batch, bottled.woken_by.at))
            missing = [f"how much {what_went_in(bottled.woken_by)} went into how much"] if fed is None else []
            points += fed or 0.0
    return _gas(batch, bottled.sg, points, _primed(batch, bottled), bottled.proof.rest.since, bottled.event.at, missing)


def gas_in_vessel(batch: Batch) -> Gas | None:
    """The gas of what lies in a vessel, were it closed now; None where no gravity was ever read."""
    latest = batch.latest
    if latest is None:
        return None
    proof = proof_of(batch)
    points = 0.0 if proof.safe else ending_of(batch).may_hold(latest.sg, latest.error)
    return _gas(batch, latest.sg, points, 0.0, proof.rest.since, None, [])


def gas_of(batch: Batch) -> Gas | None:
    """The gas of a batch where it lies: of the bottling that makes the most, where all of it is in bottles."""
    if batch.active or not batch.bottlings:
        return gas_in_vessel(batch)
    known = [gas for bottled in at_bottlings(batch) if (gas := gas_in_bottles(batch, bottled)) is not None]
    return max(known, key=lambda gas: gas.made, default=None)


def _gas(
    batch: Batch,
    sg: float,
    points: float,
    primed: float,
    rested: datetime | None,
    until: datetime | None,
    missing: list[str],
) -> Gas:
    since = rested or (batch.rackings[-1].at if batch.rackings else None)
    warm = [
        temperature.celsius
        for temperature in batch.temperatures
        if not temperature.of_air
        and (until is None or temperature.at <= until)
        and (since is None or temperature.at >= since)
    ]
    if not warm:
        missing.append(f"the warmest it has been since it came to rest; {COLD_CELLAR_C:.0f} °C is assumed")
    held = residual_volumes(min(40.0, max(0.0, max(warm, default=COLD_CELLAR_C))))
    made = made_alcohol(batch, sg)
    abv = made.high if made else batch.yeast.tolerance_high if batch.yeast else MOST_ABV
    return Gas(held, primed, points * VOLUMES_PER_POINT, min(MOST_ABV, max(0.0, abv)), tuple(missing))


def _primed(batch: Batch, bottled: AtBottling) -> float:
    """Volumes that the priming sugar makes, all of it fermented."""
    priming = bottled.event.priming
    if priming is None or priming.g <= 0:
        return 0.0
    filled = sum(lot.size_ml * lot.count for lot in bottled.event.lots) / 1000
    litres = filled if filled > 0 else volume_at(batch, bottled.event.at) or UNKNOWN_VOLUME_L
    kind = priming.what if priming.what in ("glucose", "fructose", "honey") else "sucrose"
    return volumes_from_sugar(min(400.0, priming.g / litres), kind)


def lot_rating_bar(lot: Lot) -> float:
    """The pressure a lot of bottles may be planned for, in bar gauge; 0 where no rating is known."""
    return bottle_rating_bar(lot.bottle, min(20.0, lot.rating_bar) if lot.rating_bar else None)


def bears(lot: Lot, gas: Gas, settings: Settings) -> bool:
    """Whether bottles bear the gas: by a stated rating at the warmest, else by the volumes their kind is good for."""
    if lot.rating_bar:
        return gas.bar(settings.threshold("over-the-bottle", "warmest", WARMEST_C)) <= lot_rating_bar(lot)
    volumes = bottle_rating_volumes(lot.bottle)
    if volumes <= 0:
        return gas.made <= settings.threshold("over-the-bottle", "unrated", UNRATED_VOLUMES)
    return gas.held + gas.made <= volumes


def is_borne(batch: Batch, settings: Settings) -> bool:
    """Whether what a batch lies in bears its gas, closed as it is or were it closed; not where it was never read."""
    if batch.active or not batch.bottlings:
        gas, rating_bar = gas_in_vessel(batch), vessel_rating_bar(batch)
        return gas is not None and (gas.made <= 0.0 if rating_bar <= 0 else gas.bar(WARMEST_C) <= rating_bar)
    return all(
        gas is not None and all(bears(lot, gas, settings) for lot in bottled.event.lots or UNDESCRIBED)
        for bottled in at_bottlings(batch)
        for gas in (gas_in_bottles(batch, bottled),)
    )


def vessel_rating_bar(batch: Batch) -> float:
    """The pressure the vessel it lies in may be planned for, in bar gauge; 0 where no rating is stated."""
    held = next((e.vessel for e in reversed(batch.story) if isinstance(e, Mixed | Racked | PouredBack)), None)
    stated = held.rating_bar if held is not None else None
    return bottle_rating_bar(batch.vessel_kind or "vessel", None if stated is None else min(20.0, stated))
