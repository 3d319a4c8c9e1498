"""Where a batch stands, in words; what is not known says so."""

import pytest
from screens.small_cellar import FERMENTING, NOW, ago, batch, numbered
from screens.text import text_of

from mustwatch.cellar.fold import fold
from mustwatch.judgement.state import Verdict
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import cells
from mustwatch.screens.round.standing import standing_lines


def stands(events, width=70, **verdict):
    """The section of a batch."""
    whole = fold(numbered(events), Settings(), NOW).batches["quiet-1"]
    return standing_lines(whole, Verdict(verdict.pop("state", "moving"), **verdict), Settings(), NOW, width)


@pytest.mark.parametrize("width", [36, 70])
def test_the_facts_of_a_fermenting_batch_are_all_there(width):
    """Stage, gravities, fall, alcohol, end, warmth, closure, vessel."""
    lines = stands(batch("quiet-1", 9, FERMENTING), width, fall=5.6, least_end=1.006)
    text = text_of(lines)
    for fact in ("primary", "1.100 -> 1.055", "5.6 points a day", "about 6.0 % vol (5.7 to 6.4)",
                 "should come to 1.006 at least", "20 °C", "airlock (vented)",
                 "4.5 L in jug 5 L, 500 ml free"):  # fmt: skip
        assert fact in " ".join(text.split()), fact
    assert all(cells("".join(piece for piece, _ in line)) <= width for line in lines)


@pytest.mark.parametrize("width", [36, 70])
def test_an_unknown_closure_is_said_in_capitals_and_as_a_danger(width):
    """Nobody may take unknown for safe."""
    lines = stands(batch("quiet-1", 9, FERMENTING, closure=None), width)
    assert "NOT KNOWN" in text_of(lines)
    assert any(role == "danger" and "NOT KNOWN" in text for line in lines for text, role in line)


def test_a_sealed_closure_is_said_in_capitals():
    """SEALED is a word, not a colour."""
    assert "tight-cap (SEALED)" in text_of(stands(batch("quiet-1", 9, FERMENTING, closure="tight-cap")))


def test_a_missing_start_gravity_is_not_known_and_neither_is_the_alcohol():
    """Estimated and unknown are never shown as measured."""
    events = [
        draft("pitched", ago(5), "quiet-1"),
        draft("read", ago(1), "quiet-1", gravity={"value": 1.05, "scale": "sg"}),
    ]
    text = text_of(stands(events))
    assert "start NOT KNOWN" in text
    assert "alcohol  NOT KNOWN" in text


def test_a_batch_that_was_seen_bubbling_is_not_said_to_show_no_sign():
    """Stage and state stand on neighbouring lines and must not contradict each other."""
    events = [*batch("quiet-1", 1, [1.1]), draft("seen", ago(0.1), "quiet-1", airlock="bubbling")]
    text = text_of(stands(events, state="lag"))
    assert "primary" in text and "no sign" not in text
    assert "no sign of fermentation yet" in text_of(stands(batch("quiet-1", 1, [1.1]), state="lag"))


def test_alcohol_that_is_not_known_says_what_is_missing():
    """A batch read once at its start was read."""
    assert "NOT KNOWN: no reading since the start" in text_of(stands(batch("quiet-1", 1, [1.1])))


def test_stable_is_not_called_finished():
    """Three states, never one."""
    assert "not finished" in text_of(stands(batch("quiet-1", 9, FERMENTING), state="stable"))
    assert "read again on Wednesday" in text_of(
        stands(batch("quiet-1", 9, FERMENTING), state="undecided", decide_on=ago(-6))
    )


@pytest.mark.parametrize("width", [36, 70])
def test_what_a_probe_shows_now_stands_for_what_was_recorded(width):
    """A silent probe stands beside the last temperature, and takes its place never."""
    whole = fold(numbered(batch("quiet-1", 9, FERMENTING)), Settings(), NOW).batches["quiet-1"]

    def said(live: str) -> str:
        return " ".join(text_of(standing_lines(whole, Verdict("moving"), Settings(), NOW, width, live=live)).split())

    assert "must 21.9 °C now" in said("must 21.9 °C now") and "must 20 °C" not in said("must 21.9 °C now")
    assert "must 20 °C" in said("probe shelf silent for 3 hours") and "silent for 3" in said(
        "probe shelf silent for 3 hours"
    )
