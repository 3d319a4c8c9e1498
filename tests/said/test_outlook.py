"""The outlook in words."""

from fermenting import SETTINGS, day, fermenting

from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.said.outlook import words_of


def _words(readings, until=None):
    last = until if until is not None else max(at for at, _ in readings)
    batch = fermenting(readings, until=last)
    return words_of(outlook(batch, SETTINGS, day(last)), batch)


def test_a_falling_batch_says_when_and_where_it_ends():
    """Days, dates and gravities, each as a range."""
    words = _words([(0, 1.100), (3, 1.080), (6, 1.050), (9, 1.030)])
    assert words[0].startswith("falling ") and words[0].endswith(" points a day")
    assert "days to go, between" in words[1]
    assert "will most likely end at 0.99" in words[1]


def test_an_undecided_batch_says_on_which_day_to_read():
    """Not `wait`, but a day."""
    words = _words([(0, 1.110), (20, 1.060), (21, 1.060)])
    assert words[0].startswith("undecided: read again on ")
    assert words[0].endswith("told apart from slow")


def test_nothing_pitched_says_so():
    """One line is enough."""
    batch = fermenting([(0, 1.1)], pitched=False)
    assert words_of(outlook(batch, SETTINGS, day(0)), batch) == ("not pitched yet",)


def test_words_fit_the_narrowest_screen_in_two_lines():
    """Eighty columns: every line of words is at most 110 characters."""
    for readings in (
        [(0, 1.110), (3, 1.080), (6, 1.060), (9, 1.060), (12, 1.059)],
        [(0, 1.080), (5, 1.020), (10, 0.996), (20, 0.996)],
        [(20, 1.060)],
    ):
        assert all(len(words) <= 110 for words in _words(readings))
