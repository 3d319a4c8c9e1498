"""Density of sugar in water, for any sugar share and temperature a must can have."""

from .limits import within
from .root import crossing_near
from .water import WATER_20_KG_M3, water_density

SUCROSE = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)
"""ICUMSA coefficients: row i multiplies ((t - 20)/100)^i, place k multiplies w^(k+1)."""

LOWEST_BRIX = -12.0
"""Below nothing: a dry fermented sample floats as if it held less than no sugar."""


def _excess(share: float, temp_c: float) -> float:
    """How much heavier than water, kg/m³, by the double polynomial."""
    if temp_c == 20.0:
        return _power_sum(SUCROSE[0], share)
    total, warmth = 0.0, (temp_c - 20.0) / 100.0
    for row in reversed(SUCROSE):
        total = total * warmth + _power_sum(row, share)
    return total


def _power_sum(values: tuple[float, ...], share: float) -> float:
    total = 0.0
    for value in reversed(values):
        total = (total + value) * share
    return total


def sugar_solution_density(brix: float, temp_c: float = 20.0) -> float:
    """Density of a sucrose solution, in kg/m³ (vacuum).

    Range: -12 to 80 % sugar by mass, 0 to 80 °C. Below 0 % the polynomial is carried on, a
    device for samples lightened by alcohol. Errors: ValueError outside; within 0.1 kg/m³ of
    handbook tables from 0 to 42 %.
    Formula: water density plus the ICUMSA polynomial in sugar share and temperature.

    >>> sugar_solution_density(20.0)
    1080.98
    >>> sugar_solution_density(10.0, 40.0)
    1031.39

    Source: ICUMSA SPS-4 / PTB sucrose density equation, as transcribed in two publications.
    """
    within("sugar share", brix, LOWEST_BRIX, 80, "% by mass")
    within("solution temperature", temp_c, 0, 80, "°C")
    return water_density(temp_c) + _excess(brix / 100.0, temp_c)


def brix_from_density(density_kg_m3: float, temp_c: float = 20.0) -> float:
    """Sugar share that gives a density at a temperature, in % by mass.

    Range: the densities of -12 to 80 % sugar at 0 to 80 °C. Errors: ValueError outside.
    Formula: the density equation, solved by Newton's method.

    >>> brix_from_density(1080.977)
    20.0

    Source: ICUMSA SPS-4 / PTB sucrose density equation, inverted.
    """
    low_kg_m3 = sugar_solution_density(LOWEST_BRIX, temp_c)
    high_kg_m3 = sugar_solution_density(80.0, temp_c)
    within("density", density_kg_m3, low_kg_m3 - 1e-6, high_kg_m3 + 1e-6, "kg/m³")
    excess = density_kg_m3 - water_density(temp_c)
    share = excess / 420.0
    for _ in range(12):
        step = (_excess(share, temp_c) - excess) / _slope(share, temp_c)
        share -= step
        if abs(step) < 1e-12:
            break
    return min(max(100.0 * share, LOWEST_BRIX), 80.0)


def _slope(share: float, temp_c: float) -> float:
    """Rise of density with sugar share, kg/m³ per unit share, by a small difference."""
    return (_excess(share + 1e-5, temp_c) - _excess(share - 1e-5, temp_c)) / 2e-5


def brix_from_concentration(sugar_g_per_l: float) -> float:
    """Sugar share of a solution holding so many grams a litre at 20 °C, in % by mass.

    Range: -100 to 1100 g/L. Errors: ValueError outside.
    Formula: w x density(w) = concentration, solved by the secant rule.

    >>> brix_from_concentration(216.195)
    20.0

    Source: ICUMSA SPS-4 / PTB sucrose density equation, inverted.
    """
    within("sugar", sugar_g_per_l, -100, 1100, "g/L")
    guess = sugar_g_per_l / (WATER_20_KG_M3 + 0.375 * sugar_g_per_l)
    better = sugar_g_per_l / (WATER_20_KG_M3 + _power_sum(SUCROSE[0], guess))
    return 100.0 * crossing_near(
        lambda share: share * (WATER_20_KG_M3 + _power_sum(SUCROSE[0], share)) - sugar_g_per_l, guess, better
    )
