"""A hydrometer away from its own temperature."""

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.sugar import sugar_solution_density
from mustwatch.trade.temperature import (
    celsius_from_fahrenheit,
    corrected_on_own_scale,
    corrected_sg,
    corrected_sg_with_alcohol,
    fahrenheit_from_celsius,
)
from mustwatch.trade.water import water_density

# ICUMSA density and glass growing 25e-6 per °C, worked by another program: Brix, °C, reading, to add.
PHYSICS = [
    (0, 10, 1.00125, -0.00125), (0, 20, 1.00000, 0.0), (0, 30, 0.99769, 0.00231), (0, 40, 0.99449, 0.00551),
    (10, 10, 1.04176, -0.00177), (10, 20, 1.03998, 0.0), (10, 30, 1.03727, 0.00272), (10, 40, 1.03376, 0.00622),
    (20, 10, 1.08524, -0.00231), (20, 20, 1.08292, 0.0), (20, 30, 1.07979, 0.00313), (20, 40, 1.07597, 0.00695),
    (25, 10, 1.10817, -0.00259), (25, 20, 1.10558, 0.0), (25, 30, 1.10223, 0.00334), (25, 40, 1.09825, 0.00732),
    (30, 10, 1.13192, -0.00286), (30, 20, 1.12906, 0.0), (30, 30, 1.12551, 0.00355), (30, 40, 1.12137, 0.0077),
]  # fmt: skip

# A brewers' association table for a glass made for 15 °C: °C, to add. Its minus signs, lost in print, put back.
HOBBY_15_C = [
    (0, -0.0007), (2, -0.0008), (4, -0.0009), (6, -0.0008), (8, -0.0007), (10, -0.0006),
    (12, -0.0004), (14, -0.0001), (16, 0.0002), (18, 0.0005), (20, 0.0009), (22, 0.0013),
    (24, 0.0018), (26, 0.0023), (28, 0.0029), (30, 0.0035), (32, 0.0041), (34, 0.0047),
    (36, 0.0054), (38, 0.0061), (40, 0.0069),
]  # fmt: skip


def expected_reading(brix: float, sample_c: float, calibration_c: float = 20.0) -> float:
    """What a hydrometer shows in a sugar solution: ICUMSA SPS-4 sucrose density over the water its scale was made for,
    its glass swelling by 25e-6 a degree as in the OIML alcohol tables. The way there, for checks of the way back."""
    swelling = 1.0 + 25e-6 * (sample_c - calibration_c)
    return sugar_solution_density(brix, sample_c) / water_density(calibration_c) * swelling


@pytest.mark.parametrize(("brix", "temp_c", "reading_sg", "to_add"), PHYSICS)
def test_correction_is_that_of_sugar_and_glass(brix, temp_c, reading_sg, to_add):
    """2e-5, the rounding of the figures; a ten times finer result than the glass."""
    assert expected_reading(brix, temp_c) == pytest.approx(reading_sg, abs=1e-5)
    assert corrected_sg(reading_sg, temp_c) - reading_sg == pytest.approx(to_add, abs=2e-5)


@pytest.mark.parametrize(("temp_c", "to_add"), HOBBY_15_C)
def test_correction_in_a_weak_must_is_the_hobby_table(temp_c, to_add):
    """The table has one column for all gravities; it is that of a weak must, 5 Brix (1.020), to 2e-4.
    In a must of 1.083 at 40 °C it falls 0.0013 short, which is why we ask for the gravity."""
    reading_sg = expected_reading(5.0, temp_c, 15.0)
    assert corrected_on_own_scale(reading_sg, temp_c, 15.0) - reading_sg == pytest.approx(to_add, abs=2e-4)
    strong_sg = expected_reading(20.0, 40.0, 15.0)
    assert corrected_on_own_scale(strong_sg, 40.0, 15.0) - strong_sg - 0.0069 == pytest.approx(0.0013, abs=1e-4)


@given(st.floats(0, 44), st.floats(0, 45), st.sampled_from([15.0, 15.56, 20.0]))
def test_any_glass_at_any_temperature_finds_the_same_must(brix, temp_c, calibration_c):
    """One must, three glasses, one answer."""
    reading_sg = expected_reading(brix, temp_c, calibration_c)
    if reading_sg <= 1.2 and reading_sg >= 0.97:
        assert corrected_sg(reading_sg, temp_c, calibration_c) == pytest.approx(expected_reading(brix, 20.0), abs=1e-7)


@given(st.floats(0.97, 1.199), st.floats(0, 45))
def test_a_higher_reading_is_a_higher_gravity(reading_sg, temp_c):
    """No reading in range raises, and order is kept."""
    assert corrected_sg(reading_sg + 0.001, temp_c) > corrected_sg(reading_sg, temp_c)


@given(st.floats(0.97, 1.2))
def test_at_its_own_temperature_nothing_is_added(reading_sg):
    """What the user read is what is kept."""
    assert corrected_on_own_scale(reading_sg, 15.0, 15.0) == reading_sg
    assert corrected_sg(reading_sg, 20.0) == reading_sg
    assert corrected_sg_with_alcohol(reading_sg, 20.0, 20.0, 12.0) == pytest.approx(reading_sg, abs=1e-9)


@given(st.floats(0.97, 1.2), st.floats(0, 40))
def test_without_alcohol_both_corrections_are_one(reading_sg, temp_c):
    """The fermented case must start where the must ends."""
    assert corrected_sg_with_alcohol(reading_sg, temp_c) == pytest.approx(corrected_sg(reading_sg, temp_c), abs=2e-5)


def test_a_warm_fermented_sample_needs_more_than_a_must():
    """Alcohol swells more than water: at 12 % vol and 30 °C by about 0.001, at 10 °C the other way."""
    warm = corrected_sg_with_alcohol(0.993, 30, abv=12) - corrected_sg(0.993, 30)
    cold = corrected_sg_with_alcohol(0.993, 10, abv=12) - corrected_sg(0.993, 10)
    assert 0.0004 < warm < 0.0015
    assert -0.0015 < cold < -0.0002


@pytest.mark.parametrize("temp_f", [-40, 32, 60, 68, 70, 98.6, 212])
def test_fahrenheit_is_what_pint_makes_of_it(temp_f):
    """An independent library for a formula everybody gets wrong once."""
    units = pint.UnitRegistry()
    assert celsius_from_fahrenheit(temp_f) == pytest.approx(units.Quantity(temp_f, "degF").to("degC").magnitude)
    assert fahrenheit_from_celsius(celsius_from_fahrenheit(temp_f)) == pytest.approx(temp_f)


@pytest.mark.parametrize(
    "call",
    [
        lambda: corrected_sg(1.05, 45.1),
        lambda: corrected_sg(1.05, -0.1),
        lambda: corrected_sg(1.25, 20),
        lambda: corrected_sg(1.05, 20, 30),
        lambda: corrected_sg_with_alcohol(1.0, 41),
        lambda: corrected_sg_with_alcohol(1.0, 20, abv=26),
        lambda: celsius_from_fahrenheit(-500),
    ],
)
def test_out_of_range_is_told_in_one_line(call):
    """A thermometer read in the wrong unit is caught here."""
    with pytest.raises(ValueError, match=r"^[^\n]+ must be [^\n]+ to [^\n]+, got [^\n]+$"):
        call()
