"""What was seen and smelled: words in a user's own text, denials, and how long something stands."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest

from mustwatch.rules.evidence.sightings import Look, says, standing

VINEGAR = re.compile(r"\bvinegar\b", re.I)
DAY = datetime(2026, 3, 1, tzinfo=UTC)


def look(day: float, there: bool) -> Look:
    """A look on a day."""
    return Look(DAY + timedelta(days=day), f"e{day}", there)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("vinegar", True),
        ("a touch of vinegar", True),
        ("no vinegar", False),
        ("without any vinegar", False),
        ("never a vinegar", False),
        ("no foam, but vinegar", True),
        ("no vinegar at first, then vinegar", True),
        ("vinegary", False),
        ("", False),
    ],
)
def test_a_word_counts_unless_it_is_denied(text: str, named: bool):
    """`No vinegar` is good news and must not raise an alarm."""
    assert says(text, VINEGAR) is named


def test_a_note_of_a_megabyte_is_read():
    """A hostile or pasted note must not hang the round: a quadratic search would outlast the time a test has."""
    assert not says("no vinegar " * 100_000, VINEGAR)


def test_one_look_without_it_is_no_proof_that_it_is_gone():
    """It may have been overlooked; only looks that span some days end it."""
    looks = [look(0, True), look(1, False)]
    assert standing(looks, 2) == (looks[0],)
    assert standing([*looks, look(3, False)], 2) == ()


def test_a_new_sighting_begins_the_wait_anew():
    """There, gone, there: it never went."""
    looks = [look(0, True), look(1, False), look(2, True), look(3, False)]
    assert [each.at.day for each in standing(looks, 2)] == [1, 3]


def test_what_was_never_there_does_not_stand():
    """Looks without it alone are a healthy batch."""
    assert standing([look(0, False), look(9, False)], 2) == ()
