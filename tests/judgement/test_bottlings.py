"""What is known of a bottling, number by number."""

import pytest
from rules.scenario import batch_of

from mustwatch.judgement.bottlings import at_bottling, at_bottlings, glass, opened_well, rests_in_bottles

EARLY = """
    day 0         mixed 5l jug 5l honey 1kg
    day 0 09:10   read 1.080
    day 0 09:30   pitched ale
    day 30        read 0.999
    day 31        bottled 6x750 still-wine cork still
"""


def _rests(text):
    batch = batch_of(EARLY + text)
    return rests_in_bottles(batch, at_bottling(batch))


@pytest.mark.parametrize(("day", "rests"), [(44, False), (45, True)])
def test_bottles_prove_themselves_two_weeks_after_bottling(day, rests):
    """A bottle opened sooner has had no time to fall."""
    assert _rests(f"    day {day} read 0.999\n") is rests


@pytest.mark.parametrize(("sg", "rests"), [("0.9963", True), ("0.9961", False)])
def test_a_fall_in_the_bottle_is_more_than_the_noise_of_two_readings(sg, rests):
    """2.8 points: 1.96 x sqrt 2 x one point."""
    assert _rests(f"    day 60 read {sg}\n") is rests


@pytest.mark.parametrize(("line", "well"), [
    ("day 90 09:00 took 1 drunk", False), ("day 91 09:00 took 1 drunk", True), ("day 91 09:00 took 1 given", False),
    ("day 91 09:00 tasted palate=clean", True),
])  # fmt: skip
def test_bottles_opened_well_after_two_months_are_some_comfort(line, well):
    """Sixty days, and opened by somebody who would have noticed."""
    batch = batch_of(EARLY + f"    {line}\n")
    assert opened_well(batch, at_bottling(batch)) is well


def test_a_burst_takes_the_comfort_away():
    """One is enough."""
    batch = batch_of(EARLY + "    day 95 took 1 drunk\n    day 96 took 1 broken burst=true\n")
    assert not opened_well(batch, at_bottling(batch))


@pytest.mark.parametrize(("count", "fed"), [(6, True), (5, False)])
def test_honey_after_the_bottling_went_into_the_bottles_where_no_vessel_could_take_it(count, fed):
    """A tenth of the volume stays with the lees; of 5 L, 4.5 bottled leave nothing, 3.75 leave a vessel."""
    text = EARLY.replace("6x750", f"{count}x750") + "    day 40 added honey 200g\n"
    assert (at_bottling(batch_of(text)).woken_by is not None) is fed


def test_glass_is_what_is_not_known_to_be_plastic():
    """Bottles nobody described may burst into pieces."""
    kinds = {"6x750 still-wine cork still": True, "6x750 pet tight-cap still": False, "still": True}
    for words, is_glass in kinds.items():
        assert glass(at_bottling(batch_of(EARLY.replace("6x750 still-wine cork still", words))).event) is is_glass


def test_each_bottling_is_judged_by_its_own_proof_while_any_bottle_is_left():
    """Nobody writes down of which lot a bottle was taken."""
    two = EARLY + "    day 40 read 0.999\n    day 41 bottled 2x750 still-wine cork still\n"
    assert [bottled.steady for bottled in at_bottlings(batch_of(two))] == [False, True]
    assert at_bottlings(batch_of(two + "    day 50 took 8 drunk\n")) == ()


def test_water_before_the_bottling_takes_the_proof_of_a_sweet_batch_away():
    """It thins the alcohol that held the yeast."""
    sweet = EARLY.replace("0.999", "1.020").replace(
        "    day 31", "    day 45 read 1.020\n    day 46 added water 1l\n    day 47"
    )
    assert at_bottling(batch_of(sweet)).woken_by.category == "water"
