"""Free space, air and warmth: by volume, held to published densities and the gas law."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade import headspace


def test_free_share_of_a_gallon_jug():
    """A litre short of five is a fifth."""
    assert headspace.free_share(5.0, 4.0) == pytest.approx(0.2)


def test_oxygen_of_air_is_the_gas_law():
    """One litre of dry air at 20 °C and 1 atm: 0.2095 x 31.998 g / 24.055 L = 0.279 g."""
    assert headspace.oxygen_mg_per_l(1.0, 1.0, 20.0) == pytest.approx(0.2095 * 31.998 / 24.055 * 1000, rel=0.001)


def test_water_expands_as_its_published_density_falls():
    """Water at 10, 20 and 30 °C: 999.70, 998.21, 995.65 kg/m³ (IAPWS-95, CRC Handbook)."""
    assert headspace.expansion(10, 30) == pytest.approx(999.70 / 995.65, abs=2e-5)
    assert headspace.expansion(20, 10) == pytest.approx(998.21 / 999.70, abs=2e-5)


def test_alcohol_expands_more_than_water():
    assert headspace.expansion(10, 30, abv=14) > headspace.expansion(10, 30)


def test_a_ten_fahrenheit_rise_pushes_wine_into_a_full_neck():
    """Common practice warns of it: 23 L from 15.5 to 21 °C gains some 30 mL."""
    moved = headspace.movement(23.05, 23.0, 15.5, 21.1, abv=12)
    assert 0.02 < moved.liquid_gain_l < 0.05
    assert moved.overflow_l == 0
    assert headspace.movement(23.01, 23.0, 15.5, 21.1, abv=12).overflow_l > 0


def test_cooling_draws_air_in():
    """From 20 to 5 °C a jug sucks in what gas and liquid lose: the reason for suck-back."""
    assert headspace.movement(5, 4.5, 20, 5, abv=12).gas_out_l < -0.02


def test_full_temperature_lies_where_the_room_ends():
    full = headspace.full_at_c(0.757, 0.754, 15, abv=12)
    assert full is not None
    assert headspace.movement(0.757, 0.754, 15, full, abv=12).headspace_after_l == pytest.approx(0, abs=1e-6)
    assert headspace.full_at_c(5, 4.5, 15, abv=12) is None


@given(st.floats(0, 40), st.floats(0, 40), st.floats(0, 20))
def test_expansion_there_and_back(first, second, abv):
    """One material, so the two ratios multiply to one, or stay on the side of the larger change."""
    product = headspace.expansion(first, second, abv) * headspace.expansion(second, first, abv)
    assert product == pytest.approx(1, abs=0.002)


@given(st.floats(1, 100), st.floats(0.5, 1), st.floats(0, 40), st.floats(0, 40))
def test_movement_keeps_the_vessel_full(capacity, share, first, second):
    liquid = capacity * share
    moved = headspace.movement(capacity, liquid, first, second, abv=10)
    inside = liquid + moved.liquid_gain_l + moved.headspace_after_l - moved.overflow_l
    assert inside == pytest.approx(capacity, abs=1e-9)


def test_too_much_for_the_vessel_is_refused():
    with pytest.raises(ValueError, match="does not fit"):
        headspace.free_share(4.5, 5)


@pytest.mark.parametrize(
    "call",
    [
        lambda: headspace.free_share(0, 0),
        lambda: headspace.oxygen_mg_per_l(1, 0),
        lambda: headspace.expansion(10, 60),
        lambda: headspace.expansion(10, 20, abv=30),
        lambda: headspace.sulfite_used_mg_per_l(-1),
    ],
)
def test_out_of_range_is_refused_in_one_line_naming_it(call):
    with pytest.raises(ValueError, match=r" to .*got"):
        call()
