"""Dissolved gas against the IAPWS guideline, NIST, the European wine method and brewing tables."""

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws._iapws import _Henry

from mustwatch.trade import carbonation as gas

# IAPWS Guideline on the Henry's constant (2003): °C, MPa, g/L at a partial pressure of 101.325 kPa,
# as computed with the library iapws 1.5.5.
IAPWS_ROWS = [
    (1.5, 80.31, 3.086),
    (5, 90.92, 2.725),
    (10, 107.42, 2.306),
    (15, 125.44, 1.973),
    (20, 144.89, 1.707),
    (25, 165.64, 1.491),
    (30, 187.56, 1.315),
    (35, 210.46, 1.170),
    (40, 234.17, 1.049),
]

# Regulation (EEC) 2676/90 chapter 37, its formula at these points: Pa, % vol, g/L sugar, g/L CO2.
WINE_ROWS = [
    (200_000, 0, 0, 3.356),
    (400_000, 0, 0, 6.711),
    (700_000, 0, 0, 11.745),
    (200_000, 0, 20, 3.259),
    (400_000, 0, 20, 6.518),
    (700_000, 0, 20, 11.407),
    (200_000, 10, 0, 2.966),
    (400_000, 10, 0, 5.931),
    (700_000, 10, 0, 10.379),
    (200_000, 10, 20, 2.880),
    (400_000, 10, 20, 5.760),
    (700_000, 10, 20, 10.080),
    (200_000, 12, 0, 2.887),
    (400_000, 12, 0, 5.775),
    (700_000, 12, 0, 10.106),
    (200_000, 12, 20, 2.804),
    (400_000, 12, 20, 5.609),
    (700_000, 12, 20, 9.815),
    (200_000, 14, 0, 2.809),
    (400_000, 14, 0, 5.619),
    (700_000, 14, 0, 9.833),
    (200_000, 14, 20, 2.729),
    (400_000, 14, 20, 5.457),
    (700_000, 14, 20, 9.550),
]

# Hobby carbonation chart by its fitted formula: °F, volumes, psi.
CHART_ROWS = [
    (32, 2.5, 8.2),
    (40, 2.0, 6.8),
    (40, 3.0, 17.7),
    (50, 2.5, 17.6),
    (60, 2.0, 15.9),
    (60, 3.0, 30.2),
    (68, 2.5, 27.6),
    (80, 2.0, 25.9),
    (80, 3.0, 43.7),
]

# Published brewing table, CO2 in g/L by head pressure and temperature of the beer: °C, bar gauge, g/L.
BREWING_ROWS = [
    (0, 0, 3.2),
    (0, 1.0, 6.3),
    (2, 0, 3.0),
    (4, 0, 2.8),
    (5, 0.5, 4.0),
    (6, 0, 2.6),
    (8, 0, 2.4),
    (10, 0, 2.3),
    (10, 1.0, 4.5),
    (12, 0, 2.1),
    (14, 0, 2.0),
    (15, 0.5, 2.9),
    (16, 0, 1.9),
    (18, 0, 1.8),
    (20, 0, 1.7),
    (20, 1.0, 3.3),
    (22, 0, 1.6),
    (24, 0, 1.5),
    (25, 0.5, 2.1),
]


def wine_co2(pressure_pa: float, abv: float, sugar_g_per_l: float = 0.0) -> float:
    """CO2 dissolved in wine at 20 °C, g/L: Regulation (EEC) 2676/90, chapter 37. The sign of its exponent is fixed by
    the unit check against water: 1.700 g/L at 1 atm beside 1.707."""
    return 1.951e-5 * pressure_pa * (0.86 - 0.01 * abv) * (1 - 0.00144 * sugar_g_per_l)


def champagne_henry(temp_c: float) -> float:
    """g/L per bar in a dry sparkling wine of 12 % vol: the regulation's wine at 20 °C carried by van 't Hoff with
    24.8 kJ/mol (Liger-Belair; from memory), held below to ACS Omega 6 (2021) 9672, Table 1."""
    return wine_co2(1e5, 12.0) * exp(24800 / 8.314463 * (1 / (temp_c + 273.15) - 1 / 293.15))


@pytest.mark.parametrize(("temp_c", "constant_mpa", "g_per_l"), IAPWS_ROWS)
def test_water_holds_what_iapws_says(temp_c, constant_mpa, g_per_l):
    """One per cent is asked; the formula is the guideline's own, so a tenth of that is met."""
    assert gas.henry_constant_mpa(temp_c) == pytest.approx(constant_mpa, rel=0.001)
    assert gas.water_solubility(temp_c) == pytest.approx(g_per_l, rel=0.001)


@pytest.mark.parametrize("temp_c", [2, 7.5, 12, 18.5, 22, 27, 33, 39, 50])
def test_henry_constant_agrees_with_the_iapws_library(temp_c):
    """An independent implementation, between the printed rows as well."""
    assert gas.henry_constant_mpa(temp_c) == pytest.approx(_Henry(temp_c + 273.15, "CO2"), rel=1e-6)


def test_water_at_25_matches_the_nist_solubility_database():
    """IUPAC-NIST 62_26: Ostwald 0.8207, 1.484 g/L; 0.5 % is its stated agreement."""
    in_water = gas.water_solubility(25.0)
    assert in_water == pytest.approx(1.484, rel=0.005)
    assert in_water / 44.0095 * 24.340 == pytest.approx(0.8207, rel=0.006)


@pytest.mark.parametrize(("pressure_pa", "abv", "sugar", "g_per_l"), WINE_ROWS)
def test_wine_at_20_matches_the_european_method(pressure_pa, abv, sugar, g_per_l):
    """Within 0.002 g/L; the coefficients come from the regulation's text."""
    assert wine_co2(pressure_pa, abv, sugar) == pytest.approx(g_per_l, abs=0.002)


@pytest.mark.parametrize(("temp_c", "g_per_l"), [(t, g) for t, bar, g in BREWING_ROWS if bar == 0])
def test_residual_gas_matches_the_brewing_table(temp_c, g_per_l):
    """The residual is the plain water value: a little high, never more than 0.1 g/L off."""
    assert gas.residual_co2(temp_c) == pytest.approx(g_per_l, abs=0.1)


@pytest.mark.parametrize(("temp_c", "hobby"), [(0, 1.7), (10, 1.2), (16, 0.99), (20, 0.88)])
def test_residual_volumes_stand_beside_hobby_practice(temp_c, hobby):
    """Common practice rounds upward; the chemistry lies up to 0.06 volumes below it."""
    assert gas.residual_volumes(temp_c) == pytest.approx(hobby, abs=0.06)


def test_working_solubility_is_never_above_the_champagne_one():
    """Less gas held means more pressure: the closure warnings must err that way."""
    for temp_c in (2, 6, 10, 15, 20, 25, 30, 35, 40):
        assert gas.solubility(temp_c, 12.0) <= champagne_henry(temp_c) * 1.005


def test_twenty_four_grams_of_sugar_make_a_sparkling_wine():
    """Oxford Companion to Wine: 24 g/L gives 5 to 6 atm; 4 g/L for each. Cellar temperature, 10 °C."""
    made = 24 * gas.co2_share("sucrose")
    atm = made / (champagne_henry(10.0) * gas.ATMOSPHERE_BAR)
    assert 5.0 <= atm <= 6.1
    assert made == pytest.approx(12, abs=0.5)  # champagne: 12 g/L (champagne physics page)


def test_priming_worked_example_by_rule_and_by_chemistry():
    """20 °C, 2.4 volumes, 19 L glucose: the rule (2.4 - 0.88) x 3.7 prints 5.62 g/L, 107 g.

    By the chemistry 3.7 g/L of glucose makes 0.91 volumes, so the rule falls 10 % short; both are held.
    """
    by_rule = (2.4 - 0.88) * gas.GLUCOSE_GRAMS_PER_VOLUME
    assert by_rule == pytest.approx(5.62, abs=0.01)
    assert by_rule * 19 == pytest.approx(107, abs=0.5)
    assert gas.priming_sugar(2.4, 20.0, "glucose") == pytest.approx(6.22, abs=0.02)
    assert gas.volumes_from_sugar(3.7, "glucose") == pytest.approx(0.914, abs=0.002)


def test_gas_of_two_real_fermentations():
    """200 US gal at 13 % vol: 74.6 kg (chemistry 74.3); 23 L from 1.074 to 1.000: 1.7 kg."""
    ethanol_kg = 757.08 * 0.13 * 0.78924
    assert ethanol_kg * 44.0095 / 46.068 == pytest.approx(74.3, abs=0.2)
    assert pytest.approx(1.7, abs=0.05) == 74 * gas.GRAMS_PER_POINT * 23 / 1000


def test_one_point_is_half_a_volume():
    assert pytest.approx(gas.VOLUMES_PER_POINT, abs=0.005) == gas.GRAMS_PER_POINT / gas.GRAMS_PER_VOLUME


@given(st.floats(0.9, 7.5), st.floats(0, 40), st.sampled_from(sorted(gas.CO2_SHARE)))
def test_priming_comes_round(volumes, warmest_c, kind):
    """Sugar for a carbonation, turned back, is that carbonation, or the residual where that is more."""
    sugar = gas.priming_sugar(volumes, warmest_c, kind)
    reached = gas.volumes_to_reach(sugar, kind, warmest_c)
    assert reached == pytest.approx(max(volumes, gas.residual_volumes(warmest_c)), rel=1e-9)


@given(st.floats(0, 49), st.floats(0, 24), st.floats(0.1, 1.0))
def test_warmer_or_stronger_holds_less(temp_c, abv, step):
    here = gas.solubility(temp_c, abv)
    assert gas.solubility(temp_c + step, abv) < here
    assert gas.solubility(temp_c, abv + step) < here


@pytest.mark.parametrize(
    "call",
    [
        lambda: gas.henry_constant_mpa(-3),
        lambda: gas.solubility(51),
        lambda: gas.solubility(20, abv=26),
        lambda: gas.solubility(20, sugar_g_per_l=-1),
        lambda: gas.residual_volumes(41),
        lambda: gas.priming_sugar(9, 20),
        lambda: gas.volumes_from_sugar(float("nan")),
    ],
)
def test_out_of_range_is_refused_in_one_line_naming_it(call):
    with pytest.raises(ValueError, match=r" to .*got") as refused:
        call()
    assert "\n" not in str(refused.value)


def test_unknown_sugar_is_told_the_known_ones():
    with pytest.raises(ValueError, match="glucose.*honey.*'treacle'"):
        gas.co2_share("treacle")


def test_the_champagne_constant_these_checks_rest_on_is_the_published_one():
    """ACS Omega 6 (2021) 9672, Table 1: about 2.1 g/(L bar) at 10 °C."""
    assert champagne_henry(10.0) == pytest.approx(2.1, abs=0.1)


def test_a_crash_below_freezing_is_in_range():
    """The brewing table begins at -1 °C with 3.3 g/L."""
    assert gas.residual_co2(-1.0) == pytest.approx(3.3, abs=0.1)
