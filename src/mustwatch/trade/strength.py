"""Alcohol from two gravities, what sugar is left, and where a ferment should end."""

from functools import lru_cache
from typing import NamedTuple

from .gravity import brix_from_sg, density_from_sg
from .limits import within
from .root import crossing
from .tabarie import residue_sg, tabarie_sg

EXTRACT_PER_ALCOHOL = 2.0665
"""Grams of extract that become one gram of alcohol, 0.9565 g of CO2 and 0.11 g of yeast."""

POINTS_PER_ABV = 131.25
READING_NOISE_ABV = 0.2
"""Two careful readings, 0.001 each, leave about this much doubt in the alcohol."""

DRY_WEAK_SG = (0.994, 1.000)
DRY_STRONG_SG = (0.990, 0.998)
STRONG_ABV = 12.0


class AlcoholRange(NamedTuple):
    """Alcohol as it can honestly be told, % vol: no less than low, no more than high."""

    low: float
    best: float
    high: float


class MassBalance(NamedTuple):
    """One sample by the mass balance: % vol, % by mass, true extract % by mass, sugar g/L."""

    abv: float
    alcohol_pct_mass: float
    extract_pct_mass: float
    extract_g_per_l: float


def _check(start_sg: float, present_sg: float) -> None:
    within("start gravity", start_sg, 1.0, 1.2)
    within("present gravity", present_sg, 0.97, 1.2)


def abv_rule_of_thumb(start_sg: float, present_sg: float) -> float:
    """Alcohol by the common rule, in % vol; negative when the gravity rose.

    Range: start 1.000 to 1.200, present 0.970 to 1.200. Errors: ValueError outside; reads low by
    0.1 at 1.083, 0.4 at 1.106, 1 % vol at 1.154 against the mass balance.
    Formula: (start - present) x 131.25.

    >>> abv_rule_of_thumb(1.080, 0.995)
    11.16

    Source: common practice, no primary source opened.
    """
    _check(start_sg, present_sg)
    return (start_sg - present_sg) * POINTS_PER_ABV


def abv_by_points(start_sg: float, present_sg: float) -> float:
    """Alcohol by the other common rule, in % vol; negative when the gravity rose.

    Range: start 1.000 to 1.200, present 0.970 to 1.200. Errors: ValueError outside.
    Formula: points fallen / 7.36.

    >>> abv_by_points(1.090, 0.990)
    13.59

    Source: common practice.
    """
    _check(start_sg, present_sg)
    return (start_sg - present_sg) * 1000.0 / 7.36


def abv_by_balling(start_sg: float, present_sg: float) -> float:
    """Alcohol by Balling's chain with its fixed factors, in % vol.

    Range: start 1.000 to 1.200, present 0.970 to 1.200. Errors: ValueError outside; 0.04 to 0.3
    above mass_balance, from the factors 0.1808 and 0.8192.
    Formula: RE = 0.1808 OE + 0.8192 AE; A = (OE - RE) / (2.0665 - 0.010665 OE);
    % vol = A x SG x 0.99820 / 0.78924; AE below 1.000 by 260.4 - 260.4 / SG.

    >>> abv_by_balling(1.08297, 1.00550)
    10.45

    Source: Balling's relations; mass balance as in Nielsen et al., Scandinavian School of
    Brewing; the two factors from memory.
    """
    _check(start_sg, present_sg)
    start_pct = brix_from_sg(start_sg)
    apparent_pct = 260.4 - 260.4 / present_sg if present_sg < 1.0 else brix_from_sg(present_sg)
    real_pct = 0.1808 * start_pct + 0.8192 * apparent_pct
    return _abv(_alcohol_pct(start_pct, real_pct), present_sg)


def _alcohol_pct(start_pct: float, real_pct: float) -> float:
    """Balling: % by mass of alcohol once start_pct of extract has become real_pct."""
    return (start_pct - real_pct) / (EXTRACT_PER_ALCOHOL - 0.010665 * start_pct)


def _abv(alcohol_pct: float, sg: float) -> float:
    return alcohol_pct * sg * 0.99820 / 0.78924


@lru_cache(maxsize=512)
def mass_balance(start_sg: float, present_sg: float) -> MassBalance:
    """Alcohol and true extract of a ferment, in % vol, % by mass and g/L.

    Range: start 1.000 to 1.200, present 0.970 to 1.200; a gravity not below the start means no
    alcohol. Errors: ValueError outside. Rests on Balling's yield, found on beer.
    Formula: A = (OE - RE) / (2.0665 - 0.010665 OE), with RE the extract that, together with
    that alcohol, weighs what the sample weighs (Tabarie); solved for A.

    >>> round(mass_balance(1.08297, 1.00550).abv, 2)
    10.29

    Source: Balling's mass balance (Nielsen et al.); OIV-MA-AS2-03B; OIML R 22; ICUMSA SPS-4.
    """
    _check(start_sg, present_sg)
    start_pct = brix_from_sg(start_sg)
    mass_g_per_l = density_from_sg(present_sg)
    if present_sg >= start_sg:
        extract_pct = brix_from_sg(present_sg)
        return MassBalance(0.0, 0.0, extract_pct, extract_pct / 100 * mass_g_per_l)
    alcohol_pct = _balanced_alcohol(start_pct, present_sg, mass_g_per_l)
    extract_pct = _extract_left(start_pct, alcohol_pct)
    return MassBalance(_abv(alcohol_pct, present_sg), alcohol_pct, extract_pct, extract_pct / 100 * mass_g_per_l)


def _extract_left(start_pct: float, alcohol_pct: float) -> float:
    return start_pct - alcohol_pct * (EXTRACT_PER_ALCOHOL - 0.010665 * start_pct)


def _balanced_alcohol(start_pct: float, present_sg: float, mass_g_per_l: float) -> float:
    """Alcohol, % by mass, at which alcohol and extract together weigh what the sample weighs."""

    def surplus(alcohol_pct: float) -> float:
        extract_g_per_l = _extract_left(start_pct, alcohol_pct) / 100 * mass_g_per_l
        return tabarie_sg(_abv(alcohol_pct, present_sg), residue_sg(extract_g_per_l)) - present_sg

    most_pct = (start_pct + 8.0) / (EXTRACT_PER_ALCOHOL - 0.010665 * start_pct)
    return crossing(surplus, 0.0, most_pct, close=1e-8)


def alcohol_range(start_sg: float, present_sg: float) -> AlcoholRange:
    """Alcohol made between two gravities, in % vol: lowest, best and highest fair estimate.

    Range: start 1.000 to 1.200, present 0.970 to 1.200. A gravity that has not fallen gives best 0;
    sugar added on the way must be counted into the start. Errors: ValueError outside.
    Formula: best is mass_balance; low and high span it, Balling's chain and both rules of thumb,
    widened by the 0.2 % vol that two readings leave in doubt. Say "about", to half a per cent.

    >>> shown = alcohol_range(1.100, 1.000)
    >>> shown.low, shown.best, shown.high
    (12.9, 13.5, 13.8)

    Source: mass balance as there; rules of thumb common practice; reading noise a judgement.
    """
    best = mass_balance(start_sg, present_sg).abv
    methods = (abv_rule_of_thumb, abv_by_points, abv_by_balling)
    others = (best, *(method(start_sg, present_sg) for method in methods))
    low = max(0.0, min(others) - READING_NOISE_ABV)
    return AlcoholRange(low, best, max(others) + READING_NOISE_ABV)


def residual_sugar_g_per_l(start_sg: float, present_sg: float, unfermentable_g_per_l: float = 0.0) -> float:
    """Sugar still there, at most, in g/L; never below 0.

    Range: start 1.000 to 1.200, present 0.970 to 1.200, 0 to 100 g/L known not to ferment.
    Errors: ValueError outside; a hydrometer hides about 2.5 g/L a mark, and acids, tannins and
    unfermentable honey sugars are counted as sugar unless given.
    Formula: true extract by mass_balance less the part that cannot ferment.

    >>> residual_sugar_g_per_l(1.100, 1.020)
    89.1

    Source: mass balance as there.
    """
    within("unfermentable extract", unfermentable_g_per_l, 0, 100, "g/L")
    return max(0.0, mass_balance(start_sg, present_sg).extract_g_per_l - unfermentable_g_per_l)


class Attenuation(NamedTuple):
    """Share of the gravity (apparent) and of the sugar (real) that is gone, in %."""

    apparent_pct: float
    real_pct: float


def attenuation(start_sg: float, present_sg: float) -> Attenuation:
    """How far a ferment has gone, in %: apparent by gravity, real by extract.

    Range: start above 1.001 to 1.200, present 0.970 to 1.200. Errors: ValueError outside.
    Formula: (OE - AE) / OE and (OE - RE) / OE with AE apparent, RE true extract.

    >>> shown = attenuation(1.08297, 1.00550)
    >>> shown.apparent_pct, shown.real_pct
    (92.9, 75.0)

    Source: common practice of the trade; RE by mass_balance.
    """
    within("start gravity", start_sg, 1.001, 1.2)
    start_pct = brix_from_sg(start_sg)
    real_pct = mass_balance(start_sg, present_sg).extract_pct_mass
    return Attenuation(
        100 * (start_pct - brix_from_sg(present_sg)) / start_pct, 100 * (start_pct - real_pct) / start_pct
    )


def potential_abv(start_sg: float) -> float:
    """Alcohol if the ferment ends dry, in % vol, by the mass balance.

    Range: 1.000 to 1.200. Errors: ValueError outside; takes 0.997 as dry, so within 0.5.
    Formula: mass_balance(start, 0.997).

    >>> potential_abv(1.100)
    13.9

    Source: mass balance as there; dry gravity common practice.
    """
    return mass_balance(start_sg, 0.997).abv


def expected_end(start_sg: float, tolerance_low_abv: float, tolerance_high_abv: float) -> tuple[float, float]:
    """Lowest and highest specific gravity at which this ferment may fairly end, pure numbers.

    Range: start 1.000 to 1.200, tolerances 3 to 25 % vol, low not above high. Errors: ValueError.
    Formula: [max(dry low, start - (high + 1.5)/131.25), max(dry high, start - (low - 1)/131.25)];
    dry is 0.994-1.000 where a dry finish holds less than 12 % vol, else 0.990-0.998.

    >>> expected_end(1.100, 14.0, 14.0)
    (0.990, 1.001)
    >>> expected_end(1.140, 13.0, 15.0)
    (1.014, 1.049)

    Source: common practice: dry floors and the stop at tolerance, gathered from hobby logs.
    """
    within("start gravity", start_sg, 1.0, 1.2)
    within("lower tolerance", tolerance_low_abv, 3, 25, "% vol")
    within("upper tolerance", tolerance_high_abv, tolerance_low_abv, 25, "% vol")
    weak = (start_sg - 1.0) * POINTS_PER_ABV < STRONG_ABV
    dry_low_sg, dry_high_sg = DRY_WEAK_SG if weak else DRY_STRONG_SG
    low_sg = max(dry_low_sg, start_sg - (tolerance_high_abv + 1.5) / POINTS_PER_ABV)
    return low_sg, max(dry_high_sg, start_sg - (tolerance_low_abv - 1.0) / POINTS_PER_ABV)
