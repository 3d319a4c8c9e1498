"""What is judged of every story is what was agreed to, figure by figure."""

from judgement.judged import RECORD, record


def test_what_is_judged_of_every_story_is_what_was_agreed_to():
    """A limit that moved, or a figure worked out otherwise, shows here before a rule or a page rests on it.

    Read the difference; if it is meant, `python -m tests.judgement.judged` writes it down.
    """
    assert record().splitlines() == RECORD.read_text("utf-8").splitlines()
