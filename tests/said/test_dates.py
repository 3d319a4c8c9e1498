"""Dates, days to come and ages: one reckoning, and whatever is printed is also read."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from mustwatch.entry.when import coming, moment
from mustwatch.said import dates

NOW = datetime(2026, 3, 2, 20, tzinfo=UTC)  # a Monday
WIDTH = 4  # cells of an age in the batch list

nows = st.datetimes(datetime(2001, 1, 1), datetime(2090, 1, 1)).map(lambda at: at.replace(microsecond=0))
offsets = st.sampled_from([UTC, timezone(timedelta(hours=2)), timezone(timedelta(hours=-9, minutes=-30))])
backs = st.integers(0, 40 * 365 * 24 * 60).map(lambda minutes: timedelta(minutes=minutes))


@given(nows, offsets, backs)
def test_a_printed_moment_is_read_as_the_same_minute(now: datetime, offset: timezone, back: timedelta) -> None:
    """What stands on the screen may be typed as it stands there."""
    now = now.replace(tzinfo=offset)
    at = now - back
    assert moment(dates.moment(at, now), now) == at.replace(second=0)
    assert moment(dates.day(at, now), now).astimezone(offset).date() == at.date()


@given(nows, offsets, backs)
def test_a_printed_age_is_read_as_the_same_age(now: datetime, offset: timezone, back: timedelta) -> None:
    """`19d` in the list and `19 days ago` in the pane name the same day; coarser words the same week or year."""
    now = now.replace(tzinfo=offset)
    at = now - back
    for words in (dates.short_age(at, now), dates.ago(at, now)):
        read = moment(words, now)
        assert dates.short_age(read, now) == dates.short_age(at, now) or abs(read - at) <= timedelta(hours=36)
        if words.endswith(("d", "days ago")):
            assert read.date() == at.date()


@given(nows, offsets, st.integers(0, 360 * 24 * 60).map(lambda minutes: timedelta(minutes=minutes)))
def test_a_printed_moment_to_come_is_read_as_the_same_minute(now: datetime, offset: timezone, on: timedelta) -> None:
    """Until when a finding sleeps, in the words of the pane."""
    now = now.replace(tzinfo=offset)
    at = now + on
    assume(at.date() > now.date())
    assert coming(dates.moment(at, now), now) == at.replace(second=0)
    assert coming(dates.day(at, now), now).date() == at.date()


@given(nows, offsets, backs)
def test_short_and_long_tell_the_same_number(now: datetime, offset: timezone, back: timedelta) -> None:
    """28w beside six months looked like two facts."""
    now = now.replace(tzinfo=offset)
    short, words = dates.short_age(now - back, now), dates.age(now - back, now)
    count, unit = words.split(" ") if words[0].isdigit() else ("", "")
    assert short == (f"{count}{unit[0]}" if count else "now")
    assert len(short) <= WIDTH


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (0.9, "now"), (1, "1h"), (35.9, "35h"), (36, "1d"), (48, "2d"), (24 * 19, "19d"), (24 * 62, "62d"),
        (24 * 63, "9w"),
        (24 * 196, "28w"), (24 * 729, "104w"), (24 * 730, "2y"),
    ],
)  # fmt: skip
def test_the_units_of_an_age_change_where_they_should(hours: float, words: str) -> None:
    """A boundary on each side of hour, day, week and year."""
    assert dates.short_age(NOW - timedelta(hours=hours), NOW) == words


def test_a_length_is_never_rounded_up() -> None:
    """Readings that agreed for 13.9 days have not agreed for 14."""
    assert [dates.span(days) for days in (0.5, 1 / 24, 1.6, 13.99, 62.9, 63)] == [
        "12 hours", "1 hour", "1 day", "13 days", "62 days", "9 weeks"
    ]  # fmt: skip
    assert dates.span(timedelta(days=2)) == "2 days"


@pytest.mark.parametrize(
    ("ahead", "words"),
    [(0, "today"), (1, "tomorrow"), (3, "on Thursday"), (6, "on Sunday"), (9, "on 11 Mar"), (400, "on 6 Apr 2027")],
)
def test_days_to_come_are_said_as_people_say_them(ahead: int, words: str) -> None:
    """From a Monday on; a name for this week, a date beyond, its year where that is another."""
    assert dates.on_day(NOW + timedelta(days=ahead), NOW) == words


def test_two_days_of_one_month_name_it_once() -> None:
    """As one speaks."""
    until = NOW + timedelta(days=9)
    assert dates.days_between(NOW, until, NOW) == "between 2 and 11 Mar"
    assert dates.days_between(NOW - timedelta(days=2), until, NOW) == "between 28 Feb and 11 Mar"


@pytest.fixture
def _in_berlin(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "Europe/Berlin")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.usefixtures("_in_berlin")
def test_what_happened_in_summer_is_told_by_summers_clock() -> None:
    """Read in winter, 18:30 must not have become 17:30. In Berlin summer time ended on 25 October 2026."""
    now = datetime(2026, 11, 25, 14, tzinfo=timezone(timedelta(hours=1)))
    at = datetime(2026, 7, 1, 18, 30, tzinfo=timezone(timedelta(hours=2)))
    assert dates.moment(at, now) == "1 Jul 18:30" and moment("1 Jul 18:30", now) == at
