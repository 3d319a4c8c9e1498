"""A pitching nobody wrote down: from which sign on a must is taken to live."""

from __future__ import annotations

import pytest
from rules.scenario import batch_of

MIXED = "    day 0         mixed 5l jug 5l honey 1.2kg\n    day 0         read 1.0800 20C\n"


@pytest.mark.parametrize(("to", "lives"), [("1.0751", False), ("1.0749", True)])
def test_a_fall_of_five_points_is_life(to, lives) -> None:
    """Two careful readings differ by less than three; a must not stirred through by a little more (trade)."""
    assert bool(batch_of(MIXED + f"    day 2         read {to} 20C\n").pitching_assumed) is lives


@pytest.mark.parametrize(("value", "lives"), [("1.0199", True), ("1.0201", False)])
def test_what_reads_1_020_has_fermented(value, lives) -> None:
    """No must of honey or fruit starts so low (trade)."""
    text = f"    day 0         mixed 5l jug 5l honey 1.2kg\n    day 2         read {value} 20C\n"
    assert bool(batch_of(text).pitching_assumed) is lives


@pytest.mark.parametrize(("when", "lives"), [("day 4 08:59", False), ("day 4 09:00", True)])
def test_what_is_racked_four_days_after_its_mixing_lives(when, lives) -> None:
    """A must that waited 96 hours without yeast has a growth of its own (trade)."""
    assert bool(batch_of(MIXED + f"    {when}   racked jug 4l\n").pitching_assumed) is lives


def test_a_must_thinned_between_two_readings_has_not_fallen() -> None:
    """Water takes points away without any yeast."""
    thinned = "    day 1         added water 500ml\n    day 2         read 1.070 20C\n"
    assert batch_of(MIXED + thinned).pitching_assumed == ""
