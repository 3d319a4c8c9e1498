"""Plain words in a line of quick entry are a note; what looks like an entry is understood or asked about."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from mustwatch.cellar.fold import Cellar
from mustwatch.deeds.ground import Ground
from mustwatch.deeds.quick_entry import Entry, parse_entry
from mustwatch.ledger.settings import Settings

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)


def _typed(line: str) -> Entry:
    return parse_entry(line, Ground("fir", Cellar(NOW, Settings()), NOW))


@pytest.mark.parametrize(
    ("line", "note"),
    [
        ("smells of pear", "smells of pear"),
        ("lid bulging, popped its top!", "lid bulging, popped its top!"),
        ("1.042 21C smells of pear, a bit like bread.", "smells of pear, a bit like bread."),
        ("quiet", "quiet"),
        ("fizzy", "fizzy"),
        ("+5g kms smells of egg", "smells of egg"),
    ],
)
def test_what_is_no_entry_is_a_note_word_for_word_and_is_said_so(line: str, note: str) -> None:
    """Nobody at a jug thinks of quotes."""
    entry = _typed(line)
    assert not entry.questions and entry.events[0].note == note and f"note: {note}" in entry.understood


@pytest.mark.parametrize(
    ("line", "asks"),
    [
        ("3.8 smells odd", "which is it"),
        ("pH strip ran out", "how much"),
        ("two spoons of nutrient", "what went in"),
        ("about fifty grams", "not words I know here"),
        ("racked into the other jug", "`mustwatch rack`"),
        ("1.042 swirld", "did you mean swirled"),
        ("12Bx refract", "did you mean refractometer"),
        ("foam is gone", "not words I know here"),
        ("closed tight", "closed with what"),
        ("1.042 x2", "not a word I know here"),
    ],
)
def test_what_may_be_an_entry_is_still_asked_about(line: str, asks: str) -> None:
    """A dose, a racking or an instrument that hid in a note would be lost to every rule."""
    entry = _typed(line)
    assert any(asks in question for question in entry.questions) and not entry.events


@pytest.mark.parametrize(("word", "not_meant"), [("fizzy", "fuzzy"), ("quiet", "still"), ("silent", "still")])
def test_a_known_word_is_never_mended_into_another(word: str, not_meant: str) -> None:
    """One letter made mould of gas."""
    entry = _typed(f"foam {word}")
    assert entry.questions and not any(not_meant in question for question in entry.questions)
