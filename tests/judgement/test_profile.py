"""The facts by which batches are compared, taken from a story by hand."""

from __future__ import annotations

from rules.scenario import story

from mustwatch.judgement.profile import profile_of

TOLD = """
    day 0         mixed 4.5l jug 5l honey 1.2kg
    day 0 09:00   read 1.085 pH3.9 must21C
    day 1 09:00   pitched ale g=4
    day 2 09:00   added nutrient 2g
    day 11 09:00  read 1.010 must17C
    day 41 09:00  read 0.998
    day 56 09:00  read 0.998
    day 61 09:00  bottled 5x750 still-wine cork still
    day 90 09:00  took 1 drunk
    day 91 09:00  tasted score_of_10=7
    day 190 09:00 tasted score_of_10=8.5
"""


def _profile(text: str = TOLD):
    told = story(text)
    return profile_of(told.view().batch, told.view().settings, told.at)


def test_the_recipe_is_what_was_mixed_pitched_and_fed() -> None:
    """Days count from the pitching."""
    one = _profile()
    assert (one.volume_l, one.honey_kg, one.start_ph, one.yeast_class, one.yeast_g) == (4.5, 1.2, 3.9, "ale", 4)
    assert round(one.start_sg, 3) == 1.085 and [(each.day, each.what, each.g) for each in one.fed] == [
        (1, "nutrient", 2)
    ]


def test_the_course_holds_each_reading_by_its_day_and_the_warmth_between() -> None:
    """The reading before the pitching has a day below nought."""
    one = _profile()
    assert [day for day, _ in one.readings] == [-1, 10, 40, 55] and (one.coldest_c, one.warmest_c) == (17, 21)
    assert (one.rest_day, one.bottled_day) == (40, 60)


def test_the_outcome_is_what_came_of_it() -> None:
    """The last score counts, and one bottle is gone."""
    one = _profile()
    assert (one.stage, one.state, round(one.end_sg, 3), one.score) == ("bottled", "finished", 0.998, 8.5)
    assert (one.bottles_made, one.bottles_left) == (5, 4)


def test_what_nobody_recorded_is_none_and_no_guess() -> None:
    """A start gravity by the recipe is no start gravity that was read."""
    one = _profile("    day 0 mixed 4.5l jug 5l honey 1.2kg\n")
    assert (one.start_sg, one.end_sg, one.yeast, one.rest_day, one.score, one.alcohol) == (None,) * 6
