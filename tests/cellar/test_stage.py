"""Where the stages part, number by number."""

import pytest
from rules.scenario import batch_of

RACKED = """
    day 0         mixed 4.5l jug 5l honey 1.5kg
    day 0 09:10   read 1.110
    day 0 09:30   pitched white-wine 14%
    day 30        read 1.000
    day 31        racked jug 4.5l 4.4l
"""
LEAST = 1.110 - 14 / 131.25  # stated 14 % may be 15, less one


@pytest.mark.parametrize(("at", "stage"), [("13:00", "ageing"), ("11:00", "secondary")])
def test_ageing_is_two_weeks_of_rest_less_six_hours(at, stage):
    """As long as any batch needs."""
    text = RACKED.replace("1.000", "1.005") + f"    day 40 18:00 read 1.000\n    day 54 {at} read 1.000\n"
    assert batch_of(text).stage == stage


@pytest.mark.parametrize(("above", "stage"), [(4.9, "ageing"), (5.1, "secondary")])
def test_ageing_stands_no_more_than_half_a_stall_above_the_least_end(above, stage):
    """What is higher may be held for a stall, and a stall is no rest."""
    sg = f"{LEAST + above / 1000:.4f}"
    text = RACKED.replace("1.000", sg) + f"    day 46 read {sg}\n    day 62 read {sg}\n"
    assert batch_of(text).stage == stage


def test_what_was_told_to_stand_ages_wherever_it_stands():
    """Sulfite and sorbate stop it on the way."""
    text = (
        RACKED.replace("1.000", "1.040") + "    day 32 added sorbate 1g\n    day 46 read 1.040\n    day 62 read 1.040\n"
    )
    assert batch_of(text).stage == "ageing"
    assert batch_of(text.replace("added sorbate 1g", "seen clear")).stage == "secondary"


@pytest.mark.parametrize(("sg", "stage"), [("1.107", "primary"), ("1.108", "lag")])
def test_the_first_fall_is_three_points(sg, stage):
    """Less is within the noise of two readings."""
    text = "    day 0 read 1.110\n    day 0 09:30 pitched ale\n    day 1 read " + sg
    assert batch_of(text).stage == stage


@pytest.mark.parametrize(("sg", "stage"), [("1.020", "primary"), ("1.021", "lag")])
def test_without_a_start_only_a_low_gravity_has_fermented(sg, stage):
    """No must of honey or fruit starts at 1.020."""
    assert batch_of(f"    day 0 mixed 4.5l jug 5l\n    day 0 09:30 pitched ale\n    day 3 read {sg}").stage == stage
