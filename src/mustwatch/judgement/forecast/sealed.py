"""What the gas still to come would do behind a closed lid: bar over time, and hours until the vessel's rating."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache
from math import inf

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.forecast.forecast import Fan
from mustwatch.judgement.forecast.paths import Path, quantiles
from mustwatch.judgement.gas import MOST_ABV, gas_of, is_borne, lot_rating_bar, vessel_rating_bar
from mustwatch.ledger.settings import Settings
from mustwatch.trade.carbonation import VOLUMES_PER_POINT
from mustwatch.trade.pressure import closed_vessel

UNKNOWN_C = 25.0  # where no temperature was recorded: a warm room, the cautious side
WARMEST_C = 40.0
HEADSPACE_SHARE = 0.05
STEPS_POINTS = (0.0, 0.5, 1.0, 2.0, 4.0, 8.0, 15.0, 25.0, 40.0, 60.0, 90.0, 130.0, 190.0)
UNRATED_BAR = 0.05  # what no lid notices: below it a vessel without a rating is not called over it
PRIMING_DAYS = 7.0
MOST_POINTS = 200.0


@dataclass(frozen=True, slots=True)
class Sealing:
    """A vessel sealed now, or as it stands sealed. Pressures in bar gauge, volumes of CO2 at 0 °C and 1 atm.

    bars: (when, likely, high); volumes: gas still to come (low, likely, high, at most); rating_bar: of `vessel`;
    hours_soonest, hours_likely: until the rating, None where it is not reached within the time looked at.
    """

    sealed_since: datetime | None
    vessel: str
    rating_bar: float
    temp_c: float
    temp_assumed: bool
    volumes: tuple[float, float, float, float]
    bars: tuple[tuple[datetime, float, float], ...]
    hours_soonest: float | None
    hours_likely: float | None


def sealing_of(batch: Batch, fan: Fan, paths: Sequence[Path], times: Sequence[datetime], settings: Settings) -> Sealing:
    """The pressures of a batch, as if sealed at the first of these times unless it already is.

    The gas is reckoned as everywhere: what is proven to rest and to be dry or protected makes none but by its priming;
    elsewhere the forecast says how much of what is left will ferment.
    """
    gas = gas_of(batch)
    primed, most = (gas.primed, gas.made) if gas else (0.0, MOST_POINTS * VOLUMES_PER_POINT)
    quiet = gas is not None and gas.sugar == 0.0
    ends = [0.0 if quiet else max(0.0, path.gravities[0] - min(path.gravities[-1], path.end)) for path in paths]
    low, likely, high = (min(most, VOLUMES_PER_POINT * points + primed) for points in quantiles(ends, _of_gas(fan)))
    since = _sealed_since(batch)
    temp_c, assumed = _temperature(batch)
    vessel, rating = _rating(batch)
    table = _table_of(batch, temp_c, gas.abv if gas else MOST_ABV)
    bars = _bars(table, [] if quiet else _made(fan, paths, since, times), since, times, primed / VOLUMES_PER_POINT)
    limit = inf if is_borne(batch, settings) else max(rating, UNRATED_BAR)
    return Sealing(
        sealed_since=since,
        vessel=vessel,
        rating_bar=rating,
        temp_c=temp_c,
        temp_assumed=assumed,
        volumes=(low, likely, high, most),
        bars=bars,
        hours_soonest=_hours(times, [bar for _, _, bar in bars], limit),
        hours_likely=_hours(times, [bar for _, bar, _ in bars], limit),
    )


def _of_gas(fan: Fan) -> tuple[float, float, float]:
    """The shares shown, for what rises as the gravity falls."""
    low, middle, high = fan.prior.beliefs.shown
    return 1 - high, middle, 1 - low


def _sealed_since(batch: Batch) -> datetime | None:
    if batch.bottlings and not batch.active:
        return (batch.on_shelf or batch.bottlings)[-1].at
    return batch.closing.since if batch.closing.sealed else None


def _temperature(batch: Batch) -> tuple[float, bool]:
    recent = [t.celsius for t in batch.temperatures][-6:]
    if not recent:
        return UNKNOWN_C, True
    return min(WARMEST_C, max(0.0, max(recent))), False


def _rating(batch: Batch) -> tuple[str, float]:
    """(which vessel, the pressure it may be planned for); nothing known counts as none."""
    if batch.bottlings and not batch.active:
        lots = [(lot.bottle, lot_rating_bar(lot)) for lot in (batch.on_shelf or batch.bottlings)[-1].lots]
        return min(lots, key=lambda lot: lot[1], default=("bottle", 0.0))
    return batch.vessel_kind or "vessel", vessel_rating_bar(batch)


def _table_of(batch: Batch, temp_c: float, abv: float) -> tuple[float, ...]:
    liquid = batch.volume_l or 4.0
    space = batch.headspace_l if batch.headspace_l is not None else liquid * HEADSPACE_SHARE
    if not batch.active:
        liquid, space = 0.75, 0.02
    return _table(round(min(2000.0, liquid), 2), round(min(2000.0, max(0.0, space)), 2), round(temp_c), round(abv))


def _made(
    fan: Fan, paths: Sequence[Path], since: datetime | None, times: Sequence[datetime]
) -> list[tuple[float, float]]:
    """Points made behind the lid at each of the times, likely and high."""
    before = _made_before(fan, paths, since, times[0])
    starts = [was + path.gravities[0] for was, path in before]
    columns = zip(*[path.gravities for path in paths], strict=True)
    found = [quantiles([a - b for a, b in zip(starts, column, strict=True)], _of_gas(fan)[1:]) for column in columns]
    return [(max(0.0, likely), max(0.0, high)) for likely, high in found]


def _bars(
    table: Sequence[float],
    made: Sequence[tuple[float, float]],
    since: datetime | None,
    times: Sequence[datetime],
    primed: float,
) -> tuple[tuple[datetime, float, float], ...]:
    extra = [primed * _primed_share(since, when) for when in times]
    return tuple(
        (when, _between(table, likely + more), _between(table, high + more))
        for when, (likely, high), more in zip(times, made or [(0.0, 0.0)] * len(times), extra, strict=True)
    )


def _made_before(fan: Fan, paths: Sequence[Path], since: datetime | None, now: datetime) -> list[tuple[float, Path]]:
    """Points each path fell between the sealing and now."""
    if since is None or since >= now:
        return [(0.0, path) for path in paths]
    day = max(0.0, (since - fan.opening.at) / timedelta(days=1))
    return [(max(0.0, path.course.gravities([fan.clock.passed(day)])[0] - path.gravities[0]), path) for path in paths]


def _primed_share(since: datetime | None, when: datetime) -> float:
    days = 0.0 if since is None else max(0.0, (when - since) / timedelta(days=1))
    return min(1.0, days / PRIMING_DAYS)


@lru_cache(maxsize=256)
def _table(liquid_l: float, headspace_l: float, temp_c: float, abv: float) -> tuple[float, ...]:
    """Bar gauge once so many points have fermented behind the lid."""
    alcohol = min(20.0, max(0.0, abv))
    return tuple(
        closed_vessel(
            liquid_l=max(0.01, liquid_l), headspace_l=headspace_l, temp_c=temp_c, points_left=points, abv=alcohol
        ).end_bar
        for points in STEPS_POINTS
    )


def _between(table: Sequence[float], points: float) -> float:
    for place in range(1, len(STEPS_POINTS)):
        if points <= STEPS_POINTS[place]:
            low, high = STEPS_POINTS[place - 1], STEPS_POINTS[place]
            return table[place - 1] + (table[place] - table[place - 1]) * (points - low) / (high - low)
    return table[-1]


def _hours(times: Sequence[datetime], bars: Sequence[float], limit: float) -> float | None:
    """Hours from the first of these times until the limit is passed."""
    for place, bar in enumerate(bars):
        if bar <= limit:
            continue
        passed = times[place]
        if place:
            share = (limit - bars[place - 1]) / (bar - bars[place - 1])
            passed = times[place - 1] + (passed - times[place - 1]) * max(0.0, share)
        return (passed - times[0]) / timedelta(hours=1)
    return None
