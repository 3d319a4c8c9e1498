"""What heat proves of bottles, number by number."""

import pytest
from rules.scenario import batch_of

from mustwatch.judgement.bottlings import at_bottling, is_safe_in_bottles, rests_in_bottles

SWEET = """
    day 0         read 1.082
    day 0 09:30   pitched ale
    day 50        read 1.020
    day 53        read 1.020
    day 54        bottled 6x750 still-wine cork still
"""


@pytest.mark.parametrize(("words", "enough"), [
    ("bottles 65C 9.5min", False), ("bottles 65C 9.6min", True), ("bottles 60C 49.9min", False),
    ("bottles 60C 50min", True), ("bottles 59.9C 1000min", False), ("bottles 65C", False), ("must 65C 30min", False),
    ("bottles 101C 10min", False),
])  # fmt: skip
def test_fifty_units_at_sixty_degrees_and_more_stop_yeast(words, enough):
    """What is not known, or not of the bottles, is none."""
    assert (at_bottling(batch_of(SWEET + f"    day 55 heated {words}\n")).heated is not None) is enough


def test_heat_before_the_bottling_is_none_of_the_bottles():
    """Yeast gets in again at every step."""
    early = SWEET.replace("    day 54", "    day 53 10:00 heated bottles 65C 30min\n    day 54")
    assert at_bottling(batch_of(early)).heated is None


@pytest.mark.parametrize(("line", "held"), [
    ("day 68 08:59 read 1.020", False), ("day 69 09:00 read 1.020", True), ("day 69 09:00 read 1.0171", False),
    ("day 54 12:00 read 1.020", False),
])  # fmt: skip
def test_a_bottle_two_weeks_later_shows_whether_it_held(line, held):
    """No lower than at bottling, by more than the noise of two readings."""
    batch = batch_of(SWEET + "    day 55 heated bottles 65C 10min\n" + f"    {line}\n")
    bottled = at_bottling(batch)
    assert bottled.heat_held is held and bottled.safe is held
    assert rests_in_bottles(batch, bottled) is held and is_safe_in_bottles(batch) is held
