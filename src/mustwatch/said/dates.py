"""Dates, days to come and ages in words. `entry/when.py` reads whatever is written here."""

from datetime import datetime, timedelta

from mustwatch.entry.names import MONTHS, WEEKDAYS, local
from mustwatch.ledger.visible import counted

JUST_NOW = "just now"
_LETTERS = {"hour": "h", "day": "d", "week": "w", "year": "y"}


def day(at: datetime, now: datetime) -> str:
    """A day where `now` is: `14 May`, with its year where that is not this one."""
    here = local(at, now)
    return f"{here.day} {MONTHS[here.month - 1][:3]}" + ("" if here.year == now.year else f" {here.year}")


def moment(at: datetime, now: datetime) -> str:
    """A day and its time where `now` is: `14 May 09:00`."""
    return f"{day(at, now)} {local(at, now):%H:%M}"


def full_day(at: datetime) -> str:
    """A day with its year, where it was: `14 May 2026`; for what is read in another year."""
    return f"{at.day} {MONTHS[at.month - 1][:3]} {at.year}"


def full_moment(now: datetime) -> str:
    """The present day with its year, and its time: `14 May 2026 09:00`; for the head of what may be read later."""
    return f"{full_day(now)} {now:%H:%M}"


def days_between(first: datetime, last: datetime, now: datetime) -> str:
    """Two days of one stretch: `between 9 and 14 May`, `between 28 Apr and 3 May`."""
    start, end = day(first, now), day(last, now)
    number, month = start.split(" ", 1)
    return f"between {number if end.split(' ', 1)[1] == month else start} and {end}"


def on_day(at: datetime, now: datetime) -> str:
    """A day to come: `today`, `tomorrow`, `on Thursday`, `on 9 Dec`."""
    ahead = _days(now, at, now)
    if ahead <= 0:
        return "today"
    if ahead == 1:
        return "tomorrow"
    return f"on {WEEKDAYS[local(at, now).weekday()]}" if ahead < 7 else f"on {day(at, now)}"


def age(since: datetime, now: datetime) -> str:
    """How long it is from one time to another: `less than an hour`, `7 hours`, `19 days`, `28 weeks`, `2 years`.

    From 36 hours on days are counted as on a calendar, so that `19 days` and the date agree.
    """
    return _in_words(*_age(since, now))


def ago(since: datetime, now: datetime) -> str:
    """How long ago it was: `just now`, `7 hours ago`, `19 days ago`."""
    count, unit = _age(since, now)
    return f"{_in_words(count, unit)} ago" if count else JUST_NOW


def short_age(since: datetime, now: datetime) -> str:
    """The same age for a list column, four cells at most: `now`, `7h`, `19d`, `28w`, `2y`."""
    count, unit = _age(since, now)
    return f"{count}{_LETTERS[unit]}" if count else "now"


def span(length: timedelta | float) -> str:
    """A length of time, or a number of days, in the words of `age`, never rounded up.

    >>> [span(days) for days in (0.5, 2, 20.9, 70)]
    ['12 hours', '2 days', '20 days', '10 weeks']
    """
    days = length / timedelta(days=1) if isinstance(length, timedelta) else length
    return _in_words(*_reckoned(days * 24, int(days + 1e-6)))


def _age(since: datetime, now: datetime) -> tuple[int, str]:
    return _reckoned((now - since) / timedelta(hours=1), _days(since, now, now))


def _days(since: datetime, until: datetime, now: datetime) -> int:
    last = now if until is now else local(until, now)
    return (last.date() - local(since, now).date()).days


def _reckoned(hours: float, days: int) -> tuple[int, str]:
    """The one reckoning of age: how many of which unit."""
    if hours < 36:
        return max(0, int(hours + 1e-6)), "hour"
    if days < 63:
        return days, "day"
    return (days // 7, "week") if days < 730 else (days // 365, "year")


def _in_words(count: int, unit: str) -> str:
    return counted(count, unit) if count else f"less than an {unit}"
