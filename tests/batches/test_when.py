"""Times in words."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest

from mustwatch.batches.when import moment

NOW = datetime(2026, 5, 14, 20, 0, tzinfo=timezone(timedelta(hours=2)))  # a Thursday


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("", "2026-05-14T20:00:00+02:00"),
        ("@now", "2026-05-14T20:00:00+02:00"),
        ("@yesterday 21:00", "2026-05-13T21:00:00+02:00"),
        ("@yesterday", "2026-05-13T12:00:00+02:00"),
        ("8:30", "2026-05-14T08:30:00+02:00"),
        ("today 8:30", "2026-05-14T08:30:00+02:00"),
        ("mon", "2026-05-11T12:00:00+02:00"),
        ("friday 18:00", "2026-05-08T18:00:00+02:00"),
        ("thu 7:00", "2026-05-14T07:00:00+02:00"),
        ("2026-05-01", "2026-05-01T12:00:00+02:00"),
        ("2026-05-01 18:05", "2026-05-01T18:05:00+02:00"),
        ("2026-05-01T18:05:00Z", "2026-05-01T18:05:00+00:00"),
        ("2026-05-01t18:05:00z", "2026-05-01T18:05:00+00:00"),
    ],
)
def test_words_for_a_time_mean_the_last_such_time(words: str, expected: str) -> None:
    """A diary is written in the evening about the day, in the writer's own offset."""
    assert moment(words, NOW).isoformat() == expected


@pytest.mark.parametrize("words", ["tomorrow", "2027-01-01", "22:00", "thu 22:00", "soon", "2026-02-30", "8", "9:75"])
def test_what_is_no_past_time_is_refused_in_one_line(words: str) -> None:
    """The future cannot be recorded, and half a time is not completed by guessing."""
    with pytest.raises(ValueError) as refusal:
        moment(words, NOW)
    assert "\n" not in str(refusal.value)
