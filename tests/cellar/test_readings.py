"""Readings: what an instrument is, by the name it was given."""

from __future__ import annotations

import pytest
from rules.scenario import batch_of


def test_a_refractometer_is_known_by_any_name_that_says_so():
    """`Refractometer` with a capital is as blind to alcohol as any; taken for a glass it would prove a rest."""
    told = """
        day 0         read 1.080
        day 0 09:30   pitched ale
        day 20        read 9Bx gravity.instrument="Refractometer of Ann"
    """
    assert "alcohol" in (batch_of(told).readings[-1].doubt or "")


def falling(to: str, later: str = "", at: str = "day 1 09:00") -> str | None:
    """The doubt about a reading after one of 1.100 on day 0 at 09:00, with one more reading a day later."""
    lines = ["day 0 read 1.100 20C", f"{at} read {to} 20C", *([f"day 2 read {later} 20C"] if later else [])]
    return batch_of("\n".join(f"    {line}" for line in lines)).readings[1].doubt


@pytest.mark.parametrize(
    ("to", "at", "doubted"),
    [
        ("1.0601", "day 1 09:00", False), ("1.0599", "day 1 09:00", True),
        ("1.0921", "day 0 10:00", False), ("1.0919", "day 0 10:00", True),
        ("1.0921", "day 0 13:48", False), ("1.0919", "day 0 13:48", True), ("1.0919", "day 0 13:55", False),
    ],
)  # fmt: skip
def test_a_fall_is_doubted_beyond_forty_points_a_day_and_never_below_eight_points(to, at, doubted) -> None:
    """Real musts reach 27 points a day (hobby logs); within hours two readings may differ by eight."""
    assert (falling(to, at=at) is not None) is doubted


@pytest.mark.parametrize(("later", "doubted"), [("1.0599", False), ("1.0601", True)])
def test_a_fast_fall_is_borne_out_by_a_reading_within_ten_points_above_it(later, doubted) -> None:
    """A must that did fall so fast does not rise again."""
    assert (falling("1.050", later) is not None) is doubted


@pytest.mark.parametrize(
    ("value", "doubted"), [("0.9799", True), ("0.9801", False), ("1.1799", False), ("1.1801", True)]
)
def test_no_must_is_below_0_980_or_above_1_180(value, doubted) -> None:
    """No strength a yeast reaches lies below, and honest strong musts do not lie above (trade)."""
    assert (batch_of(f"    day 0 read {value} 20C").readings[0].doubt is not None) is doubted
