"""What stands under the fields of a form."""

from screens.small_cellar import NOW
from screens.text import text_of

from mustwatch.deeds.close import DEED as CLOSE
from mustwatch.deeds.deed import Understood
from mustwatch.deeds.foresight import Foresight
from mustwatch.ledger.drafts import draft
from mustwatch.rules.finding import Finding, Severity
from mustwatch.screens.forms.told import told_lines

SAVED = Understood((draft("closed", NOW, "a", closure="cork"),), ("closed with cork",))


def finding(severity: Severity) -> Finding:
    """A finding of that severity."""
    return Finding("some-rule", "a", severity, "says so", "why", ("do this", "then that"), "clears")


def test_a_danger_is_told_with_what_to_do_and_before_all_milder_things():
    """Words and signs tell it, not colour alone."""
    ahead = Foresight((finding(Severity.DANGER),), (finding(Severity.WATCH),), ("gone-rule",))
    text = text_of(told_lines(CLOSE, SAVED, ahead, 70))
    assert "!! DANGER some-rule: says so" in text and "do 1. do this" in text
    assert text.index("DANGER") < text.index("watch some-rule")
    assert "gone-rule" not in text


def test_what_would_clear_is_told_where_nothing_pressing_comes_instead():
    """Praise beside a danger would be read first."""
    text = text_of(told_lines(CLOSE, SAVED, Foresight(gone=("gone-rule",)), 70))
    assert "once that is done, this ends: gone-rule. Record only what is done." in " ".join(text.split())


def test_a_blank_field_is_asked_for_and_a_wrong_one_is_faulted():
    """An empty form has no mistakes in it yet."""
    blank = Understood(faults={"closure": "which?"}, wanting=frozenset({"closure"}))
    assert told_lines(CLOSE, blank, None, 70) == [((" ? closure: which?", "dim"),)]
    assert told_lines(CLOSE, Understood(faults={"closure": "which?"}), None, 70) == [
        ((" ! closure: which?", "danger"),)
    ]


def test_rules_that_could_not_be_asked_are_named():
    """Silence would look like safety."""
    assert "not known what the rules would say" in text_of(told_lines(CLOSE, SAVED, Foresight(trouble="why"), 70))


def test_where_it_would_be_heading_stands_under_the_fields():
    """What if is asked while one fills in a form, before anything is done."""
    assert "outlook: about 9 days to go" in text_of(
        told_lines(CLOSE, SAVED, Foresight(heading=("outlook: about 9 days to go",)), 70)
    )
