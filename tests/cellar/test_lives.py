"""What is written down after an end: the tag begun again, a batch that went on, drink left in its vessel."""

from __future__ import annotations

import pytest
from rules.scenario import batch_of

OLD = """
    day 0         mixed 5l jug 5l honey 1.2kg
    day 0 09:10   read 1.080
    day 0 09:30   pitched ale
    day 45        read 0.998
"""


def test_a_tag_begun_again_after_its_end_is_a_new_must():
    """The old batch's readings would prove a rest of must that has only just been mixed."""
    batch = batch_of(OLD + "    day 46        ended drunk\n    day 60        mixed 5l jug 6l honey 1.2kg\n")
    assert (batch.stage, batch.readings, batch.pitched, batch.outcome) == ("must", (), None, None)
    assert len(batch.story) == 6


@pytest.mark.parametrize("later", ["closed solid-bung", "added honey 300g", "racked jug 4l", "read 0.996"])
def test_what_goes_on_after_its_end_has_not_ended(later: str):
    """An end entered for the wrong batch must not silence every rule."""
    assert batch_of(OLD + f"    day 46        ended drunk\n    day 50        {later}\n").stage != "ended"


@pytest.mark.parametrize("later", ['tasted nose="honey"', 'noted "sad"', "read must18C"])
def test_a_look_back_does_not_wake_what_has_ended(later: str):
    """The last bottle may be judged after the batch was closed, and a thermometer goes on by itself."""
    assert batch_of(OLD + f"    day 46        ended drunk\n    day 50        {later}\n").stage == "ended"


def test_what_is_racked_after_bottling_lies_in_a_vessel_too():
    """Some of it may be in bottles and some in a jug: the rules of both are asked."""
    batch = batch_of(OLD + "    day 60        bottled 2x750 still-wine cork\n    day 61        racked jug 4l\n")
    assert (batch.stage, batch.vessel_stage) == ("bottled", "secondary")


def test_what_was_only_bottled_lies_in_no_vessel():
    """The usual way."""
    batch = batch_of(OLD + "    day 60        bottled 6x750 still-wine cork\n    day 70        took 1 drunk\n")
    assert (batch.stage, batch.vessel_stage) == ("bottled", None)
