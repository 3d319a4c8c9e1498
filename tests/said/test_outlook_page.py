"""The page that explains the outlook."""

from mustwatch.judgement.state import State
from mustwatch.said.outlook_page import HELD_OUT, PAGE, calibration


def test_the_page_fits_eighty_columns_and_names_every_state():
    """A state on the screen that the page does not explain is a riddle."""
    assert max(len(line) for line in PAGE.splitlines()) < 80
    assert all(f"  {state} " in PAGE for state in State.__args__)


def test_the_page_says_what_it_cannot_know_and_warns_of_glass():
    """The caution stands where the decision is made."""
    assert "cannot know" in PAGE
    assert "not safe to seal" in PAGE


def test_the_page_shows_how_often_it_was_right_by_kind_of_log_with_counts():
    """A band that is meant for eight in ten must say how many it held."""
    rows = calibration().splitlines()[1:]
    assert len(rows) == len(HELD_OUT) and all(row in PAGE for row in rows)
    for row, (name, logs, readings, inside, _) in zip(rows, HELD_OUT, strict=True):
        assert name in row and str(logs) in row and str(readings) in row and f" {inside} " in row


def test_the_mark_of_eighty_stands_right_of_a_bar_that_falls_short():
    """Seventy-five in a hundred do not reach it; eighty-five pass it."""
    bars = {inside: row for row, (_, _, _, inside, _) in zip(calibration().splitlines()[1:], HELD_OUT, strict=True)}
    assert all("#|#" not in row for inside, row in bars.items() if inside < 80)
    assert all("#|" in row for inside, row in bars.items() if inside >= 80)
