"""The page that explains the outlook."""

from mustwatch.judgement.state import State
from mustwatch.said.outlook_page import PAGE


def test_the_page_fits_eighty_columns_and_names_every_state():
    """A state on the screen that the page does not explain is a riddle."""
    assert max(len(line) for line in PAGE.splitlines()) < 80
    assert all(f"  {state} " in PAGE for state in State.__args__)


def test_the_page_says_what_it_cannot_know_and_warns_of_glass():
    """The caution stands where the decision is made."""
    assert "cannot know" in PAGE
    assert "not safe to seal" in PAGE
