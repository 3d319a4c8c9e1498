"""What a yeast can bear."""

from mustwatch.cellar.yeast import limits_of
from mustwatch.ledger.events import Yeast
from mustwatch.ledger.settings import Settings, settings_from


def test_a_cellar_may_say_what_its_own_yeast_bears():
    """By class, or by the label somebody gives the yeast; figures left out stay the class's."""
    own = settings_from("[library.yeasts.ale]\ntolerance_high_abv = 11\n[library.yeasts.heather]\n"
                        "tolerance_low_abv = 6\ntolerance_high_abv = 9\nlow_c = 8\nhigh_c = 15")  # fmt: skip
    ale = Yeast.model_validate({"label": "yeast", "class": "ale"})
    assert limits_of(ale, own).tolerance_high == 11
    assert limits_of(ale, own).tolerance_low == limits_of(ale, Settings()).tolerance_low
    named = Yeast.model_validate({"label": "heather", "class": "ale"})
    assert (limits_of(named, own).tolerance_high, limits_of(named, own).low_c) == (9, 8)


def test_a_tolerance_that_was_written_down_with_the_pitching_counts_before_the_library():
    """It is this yeast's own."""
    stated = Yeast.model_validate({"label": "yeast", "class": "ale", "tolerance_abv": 14})
    assert limits_of(stated, settings_from("[library.yeasts.ale]\ntolerance_high_abv = 11")).tolerance_high == 15
