"""Numbers shown with the digits they have earned."""

import pytest

from mustwatch.calculators import shown


@pytest.mark.parametrize(("abv", "text"), [(0, "about 0 % vol"), (13.62, "about 13.5 % vol"), (13.8, "about 14 % vol")])
def test_alcohol_is_about_and_in_half_per_cents(abv, text):
    assert shown.alcohol(abv) == text


@pytest.mark.parametrize(("grams", "text"), [(0, "0.0 g"), (0.265, "0.27 g"), (5.04, "5.0 g"), (106.8, "107 g")])
def test_grams_are_what_a_scale_shows(grams, text):
    assert shown.grams(grams) == text


def test_less_than_a_gram_asks_for_a_finer_scale():
    assert "0.01 g" in shown.fine_scale(0.3)[0]
    assert shown.fine_scale(0.0, 4.0) == ()
