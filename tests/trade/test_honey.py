"""Honey's water, weight and the mass a must needs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.honey import (
    honey_for_gravity,
    honey_for_strength,
    honey_specific_gravity,
    start_for_strength,
)
from mustwatch.trade.must import Part, mixed
from mustwatch.trade.strength import mass_balance

# International Honey Commission / AOAC table at 20 °C: refractive index, % water.
MOISTURE = [
    (1.5044, 13.0), (1.5033, 13.4), (1.5023, 13.8), (1.5012, 14.2), (1.5002, 14.6), (1.4992, 15.0),
    (1.4982, 15.4), (1.4971, 15.8), (1.4961, 16.2), (1.4890, 19.0), (1.4880, 19.4), (1.4870, 19.8),
    (1.4860, 20.2), (1.4850, 20.6), (1.4840, 21.0), (1.4830, 21.4), (1.4820, 21.8), (1.4810, 22.2),
]  # fmt: skip

# White 1975, as in FAO Bulletin 124 (17 % agrees with a trade specification): % water, gravity 20/20.
GRAVITY = [(13, 1.4457), (15, 1.4350), (17, 1.4237), (19, 1.4101), (21, 1.3950)]

# Grams of honey of 82.9 % solids in one litre of must, worked from composition.
GRAMS_A_LITRE = [(1.060, 188), (1.080, 251), (1.100, 315), (1.110, 347), (1.120, 378)]


@pytest.mark.parametrize(("moisture_pct", "printed"), GRAVITY)
def test_honey_weighs_what_the_table_says(moisture_pct, printed):
    """To its last place, since we keep the rows."""
    assert honey_specific_gravity(moisture_pct) == pytest.approx(printed, abs=1e-9)


def test_honey_of_eighteen_percent_weighs_1417():
    """Between the rows; the figure for 18 % stands on opened pages as 1.417."""
    assert honey_specific_gravity(18) == pytest.approx(1.417, abs=0.002)


def test_a_heavy_honey_is_twelve_pounds_a_gallon():
    """60 lb in 5 US gal, the trade's 12 lb a gallon, is a gravity of 1.4405: a dry honey of 14 % water."""
    assert honey_specific_gravity(14.0) == pytest.approx(60 * 0.45359237 / (5 * 3.785411784) / 0.9982, abs=0.002)


@pytest.mark.parametrize(("sg", "grams"), GRAMS_A_LITRE)
def test_grams_for_a_litre_of_must(sg, grams):
    """To the gram."""
    assert honey_for_gravity(sg, 1.0, 17.1).honey_kg * 1000 == pytest.approx(grams, abs=1)


@given(st.floats(1.001, 1.2), st.floats(0.5, 100), st.floats(13, 25))
def test_what_is_weighed_out_mixes_to_what_was_wanted(sg, volume_l, moisture_pct):
    """The plan and the must are each other's inverse."""
    need = honey_for_gravity(sg, volume_l, moisture_pct)
    must = mixed([Part("honey", need.honey_kg, 100 - moisture_pct, moisture_pct)], water_l=need.water_kg / 0.9982031)
    assert must.sg == pytest.approx(sg, abs=1e-6)
    assert must.volume_l == pytest.approx(volume_l, rel=1e-5)


@given(st.floats(1, 18), st.floats(0.985, 1.03))
def test_a_start_for_a_strength_ferments_to_it(abv, end_sg):
    """The wish and the balance are each other's inverse, or the wish is refused with a reason."""
    try:
        start_sg = start_for_strength(abv, end_sg)
    except ValueError as refusal:
        assert "feed it in steps" in str(refusal) or "cannot end as low" in str(refusal)
    else:
        assert mass_balance(start_sg, end_sg).abv == pytest.approx(abv, abs=0.001)


def test_more_strength_takes_more_honey():
    """And a sweet end takes more than a dry one."""
    dry, strong, sweet = honey_for_strength(10, 4.5), honey_for_strength(14, 4.5), honey_for_strength(10, 4.5, 1.02)
    assert dry.honey_kg < strong.honey_kg and dry.honey_kg < sweet.honey_kg


@pytest.mark.parametrize(
    "call",
    [
        lambda: honey_specific_gravity(12),
        lambda: honey_for_gravity(1.3, 1),
        lambda: honey_for_strength(21, 1),
        lambda: honey_for_gravity(1.1, -1),
    ],
)
def test_out_of_range_is_told_in_one_line(call):
    """With the range named."""
    with pytest.raises(ValueError, match=r"^[^\n]+ must be [^\n]+ to [^\n]+, got [^\n]+$"):
        call()
