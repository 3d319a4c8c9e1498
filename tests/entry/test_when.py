"""Times in words."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import datetime, timedelta, timezone

import pytest

from mustwatch.entry.when import coming, moment

NOW = datetime(2026, 5, 14, 20, 0, tzinfo=timezone(timedelta(hours=2)))  # a Thursday


@pytest.fixture
def berlin(monkeypatch: pytest.MonkeyPatch) -> Iterator[datetime]:
    """The machine stands in Berlin; gives its now, in winter."""
    monkeypatch.setenv("TZ", "Europe/Berlin")
    time.tzset()
    yield datetime(2026, 11, 25, 14, 0, tzinfo=timezone(timedelta(hours=1)))
    monkeypatch.undo()
    time.tzset()


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
        ("yesterday 8pm", "2026-05-13T20:00:00+02:00"),
        ("yesterday 8:30 pm", "2026-05-13T20:30:00+02:00"),
        ("12am", "2026-05-14T00:00:00+02:00"),
        ("yesterday noon", "2026-05-13T12:00:00+02:00"),
        ("3 days ago", "2026-05-11T12:00:00+02:00"),
        ("a week ago", "2026-05-07T12:00:00+02:00"),
        ("2h ago", "2026-05-14T18:00:00+02:00"),
        ("1.5.2026 18:00", "2026-05-01T18:00:00+02:00"),
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


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("2026-06-01", "2026-06-01T12:00:00+02:00"),
        ("tomorrow", "2026-05-15T12:00:00+02:00"),
        ("thu", "2026-05-21T12:00:00+02:00"),
        ("3 days", "2026-05-17T12:00:00+02:00"),
        ("in 2 weeks", "2026-05-28T12:00:00+02:00"),
        ("1.6.2026", "2026-06-01T12:00:00+02:00"),
        ("2026-06-01T08:00:00Z", "2026-06-01T08:00:00+00:00"),
    ],
)
def test_words_for_a_day_to_come_mean_its_noon(words: str, expected: str) -> None:
    """Until when a finding sleeps, by when oak is tasted; today's weekday is the one of next week."""
    assert coming(words, NOW).isoformat() == expected


@pytest.mark.parametrize("words", ["", "soon", "yesterday", "2026-02-29", "9999-12-31", "99 weeks and a day"])
def test_what_is_no_day_to_come_is_refused_in_one_line(words: str) -> None:
    """Nor is the end of all time."""
    with pytest.raises(ValueError) as refusal:
        coming(words, NOW)
    assert "\n" not in str(refusal.value)


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("2026-07-01", "2026-07-01T12:00:00+02:00"),
        ("2026-07-01 18:00", "2026-07-01T18:00:00+02:00"),
        ("2026-10-25 01:30", "2026-10-25T01:30:00+02:00"),
        ("2026-10-25 03:30", "2026-10-25T03:30:00+01:00"),
        ("2026-11-24", "2026-11-24T12:00:00+01:00"),
    ],
)
def test_what_happened_in_summer_has_summers_offset(berlin: datetime, words: str, expected: str) -> None:
    """Typed in winter, it stood an hour too late. In Berlin summer time ended at 03:00 on 25 October 2026."""
    assert moment(words, berlin).isoformat() == expected


@pytest.mark.parametrize(
    ("words", "says", "either"),
    [
        ("2026-10-25 02:30", "was there twice", ("2026-10-25T02:30+02:00", "2026-10-25T02:30+01:00")),
        ("2026-10-25 02:00", "was there twice", ("2026-10-25T02:00+02:00", "2026-10-25T02:00+01:00")),
        ("25 Oct 2:59", "was there twice", ("2026-10-25T02:59+02:00", "2026-10-25T02:59+01:00")),
        ("2026-03-29 02:30", "was never there", ("2026-03-29T01:30+01:00", "2026-03-29T03:30+02:00")),
    ],
)
def test_a_time_of_the_night_of_the_clock_change_is_asked_about(berlin, words: str, says: str, either) -> None:
    """An hour decides between two looks; both readings are offered, and what is offered is read."""
    with pytest.raises(ValueError, match=f"{says} on 2026-") as refusal:
        moment(words, berlin)
    assert f"write {either[0]} or {either[1]}" in str(refusal.value)
    assert [moment(one, berlin).isoformat(timespec="minutes") for one in either] == list(either)


@pytest.mark.parametrize("words", ["2026-10-25 01:59", "2026-10-25 03:00", "2026-03-29 01:59", "2026-03-29 03:00"])
def test_a_minute_beside_the_change_is_not_asked_about(berlin, words: str) -> None:
    """Summer time began at 02:00 on 29 March and ended at 03:00 on 25 October 2026 (EU Directive 2000/84)."""
    assert f"{moment(words, berlin):%Y-%m-%d %H:%M}" == words
