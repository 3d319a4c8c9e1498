"""What bottles have read since they were filled, number by number."""

import pytest
from rules.scenario import batch_of, story

from mustwatch.judgement.bottlings import at_bottling, at_bottlings, is_safe_in_bottles

STABILISED = """
    day 0         mixed 4.5l jug 5l honey 1.5kg
    day 0 09:10   read 1.120
    day 0 09:30   pitched ale
    day 40        read 1.030 pH3.4
    day 41        added sulfite 0.4g
    day 41 10:00  added sorbate 1g
    day 60        read 1.030
    day 61        bottled 6x750 still-wine cork still
"""


def _since(text, base=STABILISED):
    return at_bottling(batch_of(base + text)).since


@pytest.mark.parametrize(("sg", "low"), [("1.0273", 0), ("1.0271", 1)])
def test_a_bottle_is_low_by_more_than_the_error_of_two_readings(sg, low):
    """2.8 points: 1.96 x sqrt 2 x one point."""
    assert len(_since(f"    day 90 read {sg}\n").low) == low


@pytest.mark.parametrize(("second", "fell"), [("1.0273", False), ("1.0271", True)])
def test_two_low_bottles_unmake_every_proof(second, fell):
    """The stabiliser was weighed and two readings agreed; the bottles know better."""
    batch = batch_of(STABILISED + f"    day 90 read 1.024\n    day 91 read {second}\n")
    assert at_bottling(batch).fell is fell
    assert at_bottling(batch).safe is not fell and is_safe_in_bottles(batch) is not fell


def test_no_page_calls_a_lot_finished_that_fell_in_its_bottles():
    """Two bottles may agree a fortnight apart, having fallen together."""
    fallen = story(STABILISED + "    day 90 read 1.024\n    day 110 read 1.024\n").view()
    assert fallen.verdict.state not in ("stable", "finished") and not fallen.verdict.safe


def test_what_was_never_read_is_held_against_its_first_bottle():
    """Nothing else tells what went into the bottles."""
    unread = "".join(line for line in STABILISED.splitlines(keepends=True) if " read " not in line)
    since = _since("    day 90 read 1.030\n    day 95 read 1.024\n", unread)
    assert since.level == pytest.approx(30.0, abs=0.05) and len(since.low) == 1


def test_two_readings_of_one_instant_are_one_bottle():
    """A line written twice must not raise a danger."""
    assert len(_since("    day 90 read 1.024\n    day 90 read 1.024\n").low) == 1


def test_a_float_lies_in_no_bottle():
    """Its error is larger than what it would tell."""
    assert not _since("    day 90 read 1.020 gravity.error=0.004\n").low


@pytest.mark.parametrize(("into", "low"), [
    ("pitched sparkling", 0), ("added honey 100g", 0), ("added water 1l", 0), ("closed airlock", 1),
    ("added sulfite 0.2g", 1),
])  # fmt: skip
def test_what_lies_in_a_vessel_is_the_bottled_drink_until_something_goes_in(into, low):
    """What ferments in the jug ferments in the bottles, unless it was woken in the jug alone."""
    half = STABILISED.replace("6x750", "3x750")
    assert len(_since(f"    day 62 {into}\n    day 90 read 1.020\n", half).low) == low


def test_a_bottle_that_fits_another_lot_may_be_of_that():
    """Nobody wrote down which was opened; a bottle lower than both is of either."""
    two = (
        STABILISED.replace("6x750", "3x750")
        + """
    day 62        added water 1l
    day 76        read 1.022
    day 90        read 1.022
    day 91        bottled 2x500 still-wine cork still
"""
    )
    first, second = at_bottlings(batch_of(two + "    day 120 read 1.022\n"))
    assert (len(first.since.low), len(first.since.unsure), len(second.since.low)) == (0, 1, 0)
    first, second = at_bottlings(batch_of(two + "    day 120 read 1.012\n"))
    assert (len(first.since.low), len(first.since.unsure), len(second.since.low)) == (1, 0, 1)


def test_what_is_to_sparkle_by_its_own_sugar_must_fall():
    """Its bottles are held against their rating instead."""
    sparkling = STABILISED.replace("6x750 still-wine cork still", "6x750 sparkling crown-cap sparkling")
    assert not _since("    day 90 read 1.024\n", sparkling).low
    primed = sparkling.replace("cap sparkling", "cap sparkling priming20g")
    assert len(_since("    day 90 read 1.024\n", primed).low) == 1
