"""A batch made from the drink of another: alive if that one was, or if nobody knows."""

import pytest
from rules.scenario import story

FIR = """
    day 0         @fir mixed 4.5l jug 5l honey 1.5kg
    day 0 09:10   @fir read 1.120
    day 0 09:30   @fir pitched high-tolerance
"""
DRAWN = "    day 10        mixed 2l jug 2l from_batch=fir\n"


def _jug(text: str):
    return story(text).view().batch


def test_it_brings_the_yeast_of_a_live_batch():
    """Its limits too; how much that one had fermented is not known here."""
    batch = _jug(FIR + DRAWN + "    day 10 10:00 read 1.050\n")
    assert (batch.stage, batch.pitched.id) == ("secondary", "day 10 mixed")
    assert batch.pitching_assumed == "it was made from fir, which was pitched"
    assert batch.yeast.tolerance_high == story(FIR).view(batch="fir").batch.yeast.tolerance_high
    assert batch.start_sg is None and batch.recorded_pitches == ()


@pytest.mark.parametrize(("source", "alive"), [
    (FIR, True), ("", True), (FIR.replace("    day 0 09:30   @fir pitched high-tolerance\n", ""), False),
    ("    day 20 @fir mixed 4.5l jug 5l honey 1.5kg\n", True), ("    day 9 @fir added yeast 5g\n", True),
    ("    day 1 @fir mixed 4.5l jug 5l\n    day 2 @fir read 1.090\n    day 9 @fir read 1.080\n", True),
    ("    day 1 @fir mixed 4.5l jug 5l\n    day 2 @fir read 1.090\n    day 9 @fir read 1.090\n", False),
])  # fmt: skip
def test_it_is_alive_where_the_other_was_or_nobody_knows(source: str, alive: bool):
    """A must that was never pitched brings nothing; a batch not on record may bring anything."""
    assert (_jug(source + DRAWN).pitched is not None) is alive


@pytest.mark.parametrize(("words", "alive"), [
    ("mixed 9l jug 9l honey 3kg from_batch=fir", False), ("mixed 2l jug 2l honey 0.66kg from_batch=fir", False),
    ("mixed 2l jug 2l honey 0.66kg water 1l from_batch=fir", True),
    ("mixed 2l jug 2l fruit 0.5kg from_batch=fir", True), ("mixed 2l jug 2l fruit from_batch=fir", True),
    ("mixed 2l jug 2l fruit 0.5kg from_batch=fir recipe_only=true", False),
    ("mixed 9l jug 9l honey 3kg from_batch=fir recipe_only=false", True),
])  # fmt: skip
def test_a_recipe_that_is_repeated_brings_no_yeast(words: str, alive: bool):
    """It says so, or its amounts are those of the other, larger or smaller."""
    assert (_jug(FIR + f"    day 10 {words}\n").pitched is not None) is alive


def test_it_comes_through_a_batch_between():
    """Of a part of a part."""
    batch = _jug(FIR + "    day 5 @elm mixed 2l jug 2l from_batch=fir\n" + DRAWN.replace("fir", "elm"))
    assert batch.pitching_assumed == "it was made from elm: it was made from fir, which was pitched"


def test_two_that_name_each_other_end():
    """A slip in a tag must not hang the program; nobody knows, so it is alive."""
    batch = _jug("    day 5 @elm mixed 2l jug 2l from_batch=jug\n" + DRAWN.replace("fir", "elm"))
    assert "of which nothing is known" in batch.pitching_assumed


def test_what_the_other_becomes_later_is_heeded():
    """The batch is folded anew where the line of another changes what it brought."""
    unpitched = FIR.replace("pitched high-tolerance", "seen clear")
    assert _jug(unpitched + DRAWN).revision != _jug(FIR + DRAWN).revision


def test_a_pitching_of_its_own_is_the_one_that_counts():
    """Then the yeast is on record."""
    batch = _jug(FIR + DRAWN + "    day 11 pitched sparkling\n")
    assert batch.pitching_assumed == "" and [pitch.id for pitch in batch.pitches] == ["day 11 pitched"]
    assert batch.start_sg is None
