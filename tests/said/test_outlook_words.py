"""The outlook in words."""

import pytest
from fermenting import SETTINGS, day, fermenting

from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.said.outlook_words import date_words, day_words, words_of


def _words(readings, until=None):
    last = until if until is not None else max(at for at, _ in readings)
    batch = fermenting(readings, until=last)
    return words_of(outlook(batch, SETTINGS, day(last)), batch)


@pytest.mark.parametrize(
    ("ahead", "words"),
    [(0, "today"), (1, "tomorrow"), (3, "on Thursday"), (6, "on Sunday"), (9, "on 11 March"), (400, "on 6 April 2027")],
)
def test_days_are_said_as_people_say_them(ahead, words):
    """From a Monday on; a name for this week, a date beyond."""
    assert day_words(day(ahead), day(0)) == words


def test_another_year_is_named():
    """A date without its year would be read as this year's."""
    assert date_words(day(400), day(0)) == "6 April 2027"


def test_a_falling_batch_says_when_and_where_it_ends():
    """Days, dates and gravities, each as a range."""
    words = _words([(0, 1.100), (3, 1.080), (6, 1.050), (9, 1.030)])
    assert "days to go, between" in words[0]
    assert "ends 0.9" in words[0] or "ends 1.0" in words[0]


def test_an_undecided_batch_says_on_which_day_to_read():
    """Not `wait`, but a day."""
    words = _words([(0, 1.110), (20, 1.060), (21, 1.060)])
    assert words[0].startswith("read again on ")
    assert words[0].endswith("told apart from slow")


def test_nothing_pitched_says_so():
    """One line is enough."""
    batch = fermenting([(0, 1.1)], pitched=False)
    assert words_of(outlook(batch, SETTINGS, day(0)), batch) == ("nothing pitched yet",)


def test_words_fit_the_narrowest_screen_in_two_lines():
    """Eighty columns: every line of words is at most 110 characters."""
    for readings in (
        [(0, 1.110), (3, 1.080), (6, 1.060), (9, 1.060), (12, 1.059)],
        [(0, 1.080), (5, 1.020), (10, 0.996), (20, 0.996)],
        [(20, 1.060)],
    ):
        assert all(len(words) <= 110 for words in _words(readings))
