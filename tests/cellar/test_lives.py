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


FULL = OLD + "    day 60        bottled 6x750 still-wine cork\n"


@pytest.mark.parametrize(
    ("bottles", "astray"), [("6x750", 1), ("5x750", 0), ("6x720", 1), ("17x250", 0), ("18x250", 1)]
)
def test_what_is_added_when_all_is_in_bottles_went_into_no_known_vessel(bottles: str, astray: int):
    """A tenth of the volume stays with the lees, and what fills no bottle is kept in no vessel: of 5 L, 4.5 or 4.32."""
    batch = batch_of(FULL.replace("6x750", bottles) + "    day 70        added sulfite 0.4g\n")
    assert (len(batch.astray), len(batch.additions)) == (astray, 1 - astray)


@pytest.mark.parametrize(
    ("later", "astray"), [("", 1), ("racked jug 1l", 0), ("closed airlock", 0), ("pitched ale", 0), ("seen clear", 1)]
)
def test_a_vessel_on_record_after_the_bottling_is_where_it_went(later: str, astray: int):
    """Whenever it was written down."""
    text = FULL + "    day 70        added sulfite 0.4g\n" + (f"    day 71        {later}\n" if later else "")
    assert len(batch_of(text).astray) == astray


def test_what_went_astray_changes_nothing_in_any_vessel():
    """Neither the course, nor the stage, nor the rest that was read."""
    batch = batch_of(FULL + "    day 70        added honey 300g\n    day 71        added water 1l\n")
    assert batch.vessel_stage is None and batch.volume_l == 5.0
    assert {stretch.cut for stretch in batch.stretches} == {"start"}


def test_what_went_in_at_the_hour_of_the_bottling_went_in_before_it():
    """A diary often knows the day alone."""
    assert not batch_of(FULL + "    day 60        added sulfite 0.4g\n").astray
