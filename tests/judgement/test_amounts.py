"""Amounts that cannot all be right, on either side of each limit."""

import pytest
from rules.scenario import batch_of

from mustwatch.judgement.amounts import is_too_much, overfilled, reckoned, room_left, unfit_volume
from mustwatch.ledger.events import Ingredient

US_GALLON_L = 3.785411784
POUND_KG = 0.45359237
HONEY = Ingredient(what="honey", category="honey", kg=3 * POUND_KG)
WATER = Ingredient(what="water", category="water", l=US_GALLON_L)


def test_three_pounds_in_a_gallon_of_water_are_a_gallon_and_a_quarter():
    """The commonest slip of beginners: 1.25 US gal at 1.092, not one at 1.111."""
    made = reckoned([HONEY, WATER])
    assert made is not None
    assert made.volume_l == pytest.approx(1.25 * US_GALLON_L, rel=0.005)
    assert made.sg == pytest.approx(1.092, abs=0.001)


@pytest.mark.parametrize(("volume_l", "fits"), [
    (4.33, False), (4.35, True), (4.72, True), (5.09, True), (5.10, False), (US_GALLON_L, False), (None, True),
])  # fmt: skip
def test_a_volume_fits_within_eight_per_cent(volume_l, fits):
    """Of the 4.717 L that they make."""
    assert (unfit_volume(volume_l, [HONEY, WATER]) is None) is fits


@pytest.mark.parametrize("more", [
    {"what": "cherries", "category": "fruit", "kg": 1}, {"what": "apple juice", "category": "juice", "l": 1},
    {"what": "honey", "category": "honey"}, {"what": "water", "category": "water"},
    {"what": "sugar", "category": "sugar", "l": 1},
])  # fmt: skip
def test_nothing_is_said_where_a_part_of_it_is_not_known(more):
    """Fruit takes room that nobody can reckon; what has no amount has none."""
    assert reckoned([HONEY, WATER, Ingredient.model_validate(more)]) is None


@pytest.mark.parametrize("parts", [[HONEY], [WATER], []])
def test_honey_without_water_may_be_made_up_to_the_volume(parts):
    """Nobody must write the water down."""
    assert reckoned(parts) is None


def test_what_takes_no_room_is_left_out():
    """Acid and oak do not fill a jug; sugar does, and honey by the litre is weighed by its density."""
    plain = reckoned([HONEY, WATER])
    with_oak = reckoned([HONEY, WATER, Ingredient(what="oak", category="oak", kg=0.01)])
    with_sugar = reckoned([HONEY, WATER, Ingredient(what="sugar", category="sugar", kg=0.5)])
    by_litre = reckoned([Ingredient(what="honey", category="honey", l=3 * POUND_KG / 1.419), WATER])
    assert with_oak == plain and with_sugar.volume_l - plain.volume_l == pytest.approx(0.31, abs=0.02)
    assert by_litre.volume_l == pytest.approx(plain.volume_l, rel=0.001)


JUG = """
    day 0         mixed 5l jug 6l honey 1.5kg
    day 0 09:30   pitched ale
"""


@pytest.mark.parametrize(("lines", "over"), [
    ("bottled 11x500", False), ("bottled 11x501", True), ("bottled 4x750|bottled 5x500", False),
    ("bottled 4x750|bottled 6x500", True), ("added water 0.5l|bottled 12x500", False),
    ("added honey 600g|bottled 12x500", False), ("racked 6l|bottled 12x500", False),
    ("racked jug 5l|bottled 11x500", False), ("racked jug 4l|bottled 9x500", False),
    ("racked jug 4l|bottled 10x500", True), ("bottled 8x500|racked 2l|bottled 4x500", False),
    ("bottled 10x500|poured_back jug 6l|bottled 11x500", False),
    ("bottled 10x500|poured_back jug 6l|bottled 12x500", True),
    ("bottled 12x500 sure=true", False), ("bottled style=still", False),
])  # fmt: skip
def test_bottles_may_hold_a_tenth_more_than_there_was(lines, over):
    """All since the vessel was last filled, whatever their size; 5.5 L of 5 L."""
    text = "".join(f"    day {day} {line}\n" for day, line in enumerate(lines.split("|"), 60))
    assert (overfilled(batch_of(JUG + text).story) is not None) is over


def test_what_was_never_measured_is_never_too_much():
    """Nobody wrote down how much there was."""
    assert overfilled(batch_of(JUG.replace("5l jug 6l", "jug 6l") + "    day 60 bottled 40x750\n").story) is None


def test_the_room_left_is_what_no_bottle_took_yet():
    """None is left of less."""
    batch = batch_of(JUG + "    day 60 bottled 4x750\n")
    first, last = batch.story[0].at, batch.story[-1].at
    assert (room_left(batch.story, first), room_left(batch.story, last)) == (5.0, 2.0)
    assert is_too_much(2.51, batch.story, last) and not is_too_much(2.49, batch.story, last)
