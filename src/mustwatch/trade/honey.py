"""Honey: how wet it is, how heavy it is, and how much of it a must needs."""

from dataclasses import dataclass

from .gravity import brix_from_sg, density_from_sg
from .limits import within
from .root import crossing
from .strength import mass_balance

USUAL_MOISTURE_PCT = 17.2
"""Mean of US honeys; they run from 13.4 to 22.9 (White et al. 1962)."""

SPECIFIC_GRAVITY = ((13.0, 1.4457), (15.0, 1.4350), (17.0, 1.4237), (19.0, 1.4101), (21.0, 1.3950))


def honey_specific_gravity(moisture_pct: float) -> float:
    """Specific gravity 20/20 of honey, a pure number, from its water in % by mass.

    Range: 13 to 25 % (above 21 the last slope is carried on). Errors: ValueError outside; 0.002.
    Formula: straight lines between the rows of the table.

    >>> honey_specific_gravity(17.0)
    1.4237
    >>> honey_specific_gravity(18.0)
    1.417

    Source: White 1975, as in FAO Agricultural Services Bulletin 124.
    """
    within("moisture of honey", moisture_pct, 13, 25, "% by mass")
    left = min(int((moisture_pct - 13) // 2), len(SPECIFIC_GRAVITY) - 2)
    (low_pct, low_sg), (high_pct, high_sg) = SPECIFIC_GRAVITY[left : left + 2]
    return low_sg + (high_sg - low_sg) * (moisture_pct - low_pct) / (high_pct - low_pct)


@dataclass(frozen=True, slots=True)
class HoneyNeed:
    """What to weigh out: honey and water in kg, the honey's own volume in L, the gravity it gives."""

    honey_kg: float
    honey_l: float
    water_kg: float
    sg: float


def honey_for_gravity(target_sg: float, volume_l: float, moisture_pct: float = USUAL_MOISTURE_PCT) -> HoneyNeed:
    """Honey and water, in kg, for a must of so many litres at a gravity.

    Range: 1.000 to 1.200, 0 to 10 000 L finished must, moisture 13 to 25 %. Errors: ValueError
    outside. Honey is uneven: allow 10 points until the must is mixed and read.
    Formula: mass balance; all that is not water in honey counts as sugar for the gravity.

    >>> honey_for_gravity(1.100, 1.0, 17.1).honey_kg
    0.315

    Source: mass balance with NBS C440; honey's solids as in USDA Bulletin 1261.
    """
    within("target gravity", target_sg, 1.0, 1.2)
    within("volume", volume_l, 0, 10_000, "L")
    heavy_sg = honey_specific_gravity(moisture_pct)
    total_kg = density_from_sg(target_sg) * volume_l / 1000.0
    honey_kg = total_kg * max(0.0, brix_from_sg(target_sg)) / (100.0 - moisture_pct)
    return HoneyNeed(honey_kg, honey_kg / density_from_sg(heavy_sg) * 1000.0, total_kg - honey_kg, target_sg)


def start_for_strength(abv: float, end_sg: float = 0.998) -> float:
    """Start gravity, a pure number, from which a ferment ending at end_sg holds abv % vol.

    Range: 0.5 to 20 % vol, end 0.980 to 1.060. Errors: ValueError outside, or where the start would
    lie above 1.200 or below water.
    Formula: mass_balance solved for its start by false position.

    >>> start_for_strength(12.0)
    1.0880

    Source: Balling's mass balance, as in strength.mass_balance.
    """
    within("wished alcohol", abv, 0.5, 20, "% vol")
    low_sg, high_sg = max(1.0, within("end gravity", end_sg, 0.98, 1.06)), 1.2
    if mass_balance(high_sg, end_sg).abv < abv:
        raise ValueError(f"{abv:g} % vol ending at {end_sg:.3f} would start above 1.200: feed it in steps")
    if mass_balance(low_sg, end_sg).abv > abv:
        raise ValueError(f"{abv:g} % vol cannot end as low as {end_sg:.3f}: so weak a drink ends nearer to 1.000")
    return crossing(lambda start_sg: mass_balance(start_sg, end_sg).abv - abv, low_sg, high_sg, close=1e-6)


def honey_for_strength(
    abv: float, volume_l: float, end_sg: float = 0.998, moisture_pct: float = USUAL_MOISTURE_PCT
) -> HoneyNeed:
    """Honey and water, in kg, for so many litres that will hold abv % vol when it ends at end_sg.

    Range: 0.5 to 20 % vol, 0 to 10 000 L, end 0.980 to 1.060, moisture 13 to 25 %. Errors: ValueError
    outside. A wish, not a promise: a yeast may stop before or go beyond.
    Formula: start_for_strength, then honey_for_gravity.

    >>> honey_for_strength(12.0, 4.5).honey_kg
    1.25

    Source: mass balances as there.
    """
    return honey_for_gravity(start_for_strength(abv, end_sg), volume_l, moisture_pct)
