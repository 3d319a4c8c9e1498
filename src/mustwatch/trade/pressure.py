"""Gas in a closed vessel: bar now, bar at the end, and how long until it is too much.

Glass is judged against a stated rating. Jugs, carboys and still-wine bottles have none: nowhere
was a pressure rating for them found, so theirs is nought.
"""

from typing import NamedTuple

from .carbonation import (
    ATMOSPHERE_BAR,
    CO2_SHARE,
    GRAMS_PER_POINT,
    GRAMS_PER_VOLUME,
    solubility,
)
from .limits import within

GAS_CONSTANT = 0.0831446  # L bar / (mol K)
CO2_MOLAR_MASS = 44.0095
ABV_PER_POINT = 0.131  # % vol for 0.001 of gravity, common practice

# Bar gauge for vessels and bottles rated by pressure; volumes for those the trade rates by carbonation.
RATING_BAR = {
    "jug": 0.0,
    "carboy": 0.0,
    "bucket": 0.0,
    "barrel": 0.0,
    "still-wine": 0.0,
    "swing-top": 0.0,
    "sparkling": 6.0,
    "keg": 0.0,
    "other": 0.0,
}
RATING_VOLUMES = {"beer": 2.5, "heavy-beer": 3.5, "pet": 4.0}
RATING_SOURCE = {
    "jug": "no rating found in any standard: treated as 0",
    "carboy": "no rating found in any standard: treated as 0",
    "bucket": "no rating found in any standard: treated as 0",
    "barrel": "no rating found in any standard: treated as 0",
    "still-wine": "unrated; one page quotes 0.2 to 0.35 bar: treated as 0",
    "swing-top": "decorative swing-tops are unrated: 0 until its maker's figure is given",
    "sparkling": "5 to 6 bar working pressure, sparkling-wine handbooks",
    "keg": "as its plate states; none given: 0",
    "other": "unknown: 0 until its maker's figure is given",
    "beer": "plan for 2.5 volumes, never over 3; common practice",
    "heavy-beer": "3.5 to 4 volumes for heavy returnable bottles; common practice",
    "pet": "4 volumes for soft-drink bottles; from memory",
}
BOTTLE_KINDS = (*RATING_BAR, *RATING_VOLUMES)


def gauge_bar(volumes: float, temp_c: float, abv: float = 0.0, sugar_g_per_l: float = 0.0) -> float:
    """Pressure above the atmosphere over a carbonated drink at rest, in bar gauge; never below 0.

    Range: volumes: dissolved CO2, 0 to 100. temp_c: °C, -2 to 50. abv: % vol; 0 gives the table for water
    and weak beer, 12 % raises the pressure by about a quarter at 30 °C.

    >>> gauge_bar(2.5, 20.0)
    1.9
    >>> gauge_bar(2.5, 30.0)
    2.8

    Errors: outside the range, ValueError naming it. 0.1 bar against a worked example of cider makers.
    Formula: volumes x 1.977 / solubility - 1.013.
    Source: Henry's law with carbonation.solubility; no headspace, so on the high side.
    """
    within("carbonation", volumes, 0, 100, "volumes")
    absolute = volumes * GRAMS_PER_VOLUME / solubility(temp_c, abv, sugar_g_per_l)
    return max(0.0, absolute - ATMOSPHERE_BAR)


def bottle_rating_bar(kind: str, stated_bar: float | None = None) -> float:
    """Pressure a bottle or vessel may be planned for, in bar gauge; 0 where no rating is known.

    Range: kind: one of BOTTLE_KINDS; any other is treated as unknown, 0. stated_bar: the maker's figure, 0 to 20.

    >>> bottle_rating_bar("sparkling")
    6.0
    >>> bottle_rating_bar("jug")
    0.0

    Errors: a stated rating outside 0 to 20 bar, ValueError.
    Formula: the stated rating, or the pressure of the rated volumes at 30 °C.
    Source: RATING_SOURCE; beer and soft-drink bottles from their volumes at 30 °C in water
    (2.5 volumes give 2.8 bar, as the 40 psi that common practice quotes).
    """
    if stated_bar is not None:
        within("bottle rating", stated_bar, 0, 20, "bar gauge")
        return stated_bar
    if kind in RATING_VOLUMES:
        return gauge_bar(RATING_VOLUMES[kind], 30.0)
    return RATING_BAR.get(kind, 0.0)


def bottle_rating_volumes(kind: str, stated_bar: float | None = None) -> float:
    """Carbonation a bottle may be planned for, in volumes at 30 °C; 0 where it must stay still.

    Range: kind: one of BOTTLE_KINDS; any other is treated as unknown, 0. stated_bar: the maker's figure.

    >>> bottle_rating_volumes("beer")
    2.5
    >>> bottle_rating_volumes("still-wine")
    0.0

    Errors: a stated rating outside 0 to 20 bar, ValueError.
    Formula: the rated volumes, or (rating + 1.013) x solubility at 30 °C / 1.977.
    Source: RATING_SOURCE; a rating in bar is turned into volumes at 30 °C by Henry's law in water.
    """
    if stated_bar is None and kind in RATING_VOLUMES:
        return RATING_VOLUMES[kind]
    rating = bottle_rating_bar(kind, stated_bar)
    return (rating + ATMOSPHERE_BAR) * solubility(30.0) / GRAMS_PER_VOLUME if rating > 0 else 0.0


class ClosedVessel(NamedTuple):
    """A sealed vessel, pressures in bar gauge.

    hours_to_limit is None when the limit is never passed, or when it will be but no rate is known:
    passes_limit tells which.
    """

    now_bar: float
    end_bar: float
    limit_bar: float
    passes_limit: bool
    hours_to_limit: float | None


class _Sealed(NamedTuple):
    """What does not change after sealing: volumes, temperature, the gas and air shut in."""

    liquid_l: float
    headspace_l: float
    temp_c: float
    abv: float
    shut_in_g: float
    air_bar: float

    def gauge(self, made_g_per_l: float) -> float:
        """Bar gauge once so much more CO2 has been made; alcohol made with it lowers the solubility."""
        abv = min(25.0, self.abv + made_g_per_l / GRAMS_PER_POINT * ABV_PER_POINT)
        held = solubility(self.temp_c, abv) * self.liquid_l + self.headspace_l * _gas_density(self.temp_c)
        co2_bar = (self.shut_in_g + made_g_per_l * self.liquid_l) / held
        return max(0.0, co2_bar + self.air_bar - ATMOSPHERE_BAR)

    def made_at(self, limit_bar: float, most_g_per_l: float) -> float:
        """Grams per litre of CO2 made when the limit is met, by halving."""
        low, high = 0.0, most_g_per_l
        for _ in range(50):
            middle = (low + high) / 2
            low, high = (low, middle) if self.gauge(middle) > limit_bar else (middle, high)
        return high


def _gas_density(temp_c: float) -> float:
    """CO2 as an ideal gas at 1 bar, g/L; real CO2 takes a little less room, so this reads high."""
    return CO2_MOLAR_MASS / (GAS_CONSTANT * (temp_c + 273.15))


def _seal(liquid_l: float, headspace_l: float, temp_c: float, abv: float, sealed_at_c: float, air: bool) -> _Sealed:
    dissolved = ATMOSPHERE_BAR * solubility(sealed_at_c, abv) * liquid_l
    above = 0.0 if air else ATMOSPHERE_BAR * _gas_density(sealed_at_c) * headspace_l
    kelvin_ratio = (temp_c + 273.15) / (sealed_at_c + 273.15)
    air_bar = ATMOSPHERE_BAR * kelvin_ratio if air and headspace_l > 0 else 0.0
    return _Sealed(liquid_l, headspace_l, temp_c, abv, dissolved + above, air_bar)


def closed_vessel(
    *,
    liquid_l: float,
    headspace_l: float,
    temp_c: float,
    points_left: float = 0.0,
    sugar_left_g_per_l: float = 0.0,
    points_made: float = 0.0,
    points_per_day: float | None = None,
    abv: float = 12.0,
    sealed_at_c: float | None = None,
    air_in_headspace: bool = False,
    limit_bar: float = 0.0,
) -> ClosedVessel:
    """Pressure in a sealed vessel, in bar gauge: now, when all is fermented, and hours to a limit.

    Range: liquid_l: above 0, to 2000. headspace_l: 0 to 2000. temp_c: °C, -2 to 50, the warmest to come.
    points_left: gravity still to fall, in 0.001. sugar_left_g_per_l: sugar added beside it, as hexose.
    points_made: fall since it was sealed. points_per_day: present rate. abv: % vol now.
    sealed_at_c: °C when sealed (temp_c if None; colder holds more gas). limit_bar: bar gauge.
    air_in_headspace: filled with air, as when bottling; over a ferment it is CO2.

    >>> vessel = closed_vessel(liquid_l=3.8, headspace_l=0.2, temp_c=20.0, points_left=2.0)
    >>> vessel.end_bar
    1.3
    >>> vessel.passes_limit
    True

    Errors: outside the range, ValueError naming it. Gas is ideal, the liquid was saturated when sealed
    and every sugar ferments: all read high, the cautious side. Real vessels burst below their average.
    Formula: CO2 shut in and made = p (solubility x liquid + gas density x headspace).
    Source: mass balance of CO2 with Henry's law (carbonation.solubility).
    """
    _check_vessel(liquid_l, headspace_l, points_left, points_made, sugar_left_g_per_l, limit_bar, points_per_day)
    sealed_c = temp_c if sealed_at_c is None else sealed_at_c
    vessel = _seal(liquid_l, headspace_l, temp_c, abv, sealed_c, air_in_headspace)
    made = points_made * GRAMS_PER_POINT
    total = made + points_left * GRAMS_PER_POINT + sugar_left_g_per_l * CO2_SHARE["glucose"]
    now_bar, end_bar = vessel.gauge(made), vessel.gauge(total)
    passes = end_bar > limit_bar + 1e-6
    hours = None
    if passes and now_bar > limit_bar + 1e-6:
        hours = 0.0
    elif passes and points_per_day:
        left_g = max(0.0, vessel.made_at(limit_bar, total) - made)
        hours = left_g / (points_per_day * GRAMS_PER_POINT) * 24
    return ClosedVessel(now_bar, end_bar, limit_bar, passes, hours)


def _check_vessel(
    liquid_l: float,
    headspace_l: float,
    points_left: float,
    points_made: float,
    sugar_g_per_l: float,
    limit_bar: float,
    points_per_day: float | None,
) -> None:
    if not 0 < liquid_l <= 2000:
        raise ValueError(f"liquid covers more than 0, to 2000 L, got {liquid_l:g}")
    within("headspace", headspace_l, 0, 2000, "L")
    within("gravity left", points_left, 0, 200, "points")
    within("gravity made", points_made, 0, 200, "points")
    within("sugar left", sugar_g_per_l, 0, 400, "g/L")
    within("pressure limit", limit_bar, 0, 20, "bar gauge")
    if points_per_day is not None:
        within("fermentation rate", points_per_day, 0, 100, "points a day")
