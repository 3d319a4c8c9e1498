"""Times as people write them: `yesterday 21:00`, `8:30pm`, `fri`, `3 days ago`, `2026-05-01 18:00`, or RFC 3339."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAY_WORDS = ("today", "yesterday", "noon", "midnight")
CLOCK = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?\s*([ap]m)|(\d{1,2})[:.h](\d{2})|noon", re.IGNORECASE)
DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})")
AGO = re.compile(r"(\d{1,4}|an?) ?(h|hours?|d|days?|w|weeks?)(?: ago)?", re.IGNORECASE)
AHEAD = re.compile(r"(?:in )?(\d{1,4}|an?) ?(h|hours?|d|days?|w|weeks?)", re.IGNORECASE)
HOURS = {"h": 1, "d": 24, "w": 168}
EXAMPLES = "@yesterday 21:00, @8:30, @fri 18:00, @2026-05-01 18:00 or an RFC 3339 time"
COMING = "2026-06-01, tomorrow, fri or 3 days"

LONGEST_AGO = timedelta(days=50 * 366)
LONGEST_AHEAD = timedelta(days=100 * 366)


def moment(words: str, now: datetime) -> datetime:
    """The past moment that words name, seen from `now` and in the local time of that day.

    A day without a time means noon, today without a time means now. Raises ValueError with one line for what
    is not understood, and for a time still to come: a diary has no future.
    """
    text = " ".join(words.strip().lstrip("@").split())
    if text.lower() in ("", "now"):
        return now
    found = _exact(text, now) or _relative(text.lower(), now)
    if found is None:
        raise ValueError(f"@{text[:40]} is no time I know; write {EXAMPLES}")
    if found > now + timedelta(minutes=1):
        day_before = f"; write @yesterday {text}" if CLOCK.fullmatch(text) else ""
        raise ValueError(f"@{text[:40]} is still to come; only what has happened can be recorded{day_before}")
    if found < now - LONGEST_AGO:
        raise ValueError(f"@{text[:40]} is more than fifty years ago; is the year right?")
    return found


def coming(words: str, now: datetime) -> datetime:
    """The day or moment to come that words name: a date, `tomorrow`, a weekday, `3 days`, `2 weeks`, RFC 3339.

    A day without a time means its noon. Raises ValueError with one line.
    """
    text = " ".join(words.split())
    found = _exact(text, now) or _ahead(text.lower(), now)
    if found is None:
        raise ValueError(f"{text[:40]!r} is no day I know; write {COMING}")
    if found > now + LONGEST_AHEAD:
        raise ValueError(f"{text[:40]} is more than a hundred years ahead; is the year right?")
    return found


def takes_clock(words: str, following: str) -> bool:
    """Whether the next word still belongs to a time begun with @: the clock after a day, `pm`, `days ago`."""
    text = words.lstrip("@")
    if re.fullmatch(r"\d{1,2}(?:[:.]\d{2})?", text.rsplit(" ", 1)[-1]) and following.lower() in ("am", "pm"):
        return True
    if AGO.fullmatch(f"{text} {following}") and text.lower() != "now":
        return True
    one_day = " " not in text and not CLOCK.fullmatch(text) and "T" not in text and not AGO.fullmatch(text)
    return one_day and bool(CLOCK.fullmatch(following) or (text in DAY_WORDS and re.fullmatch(r"\d{1,2}", following)))


def placed(day: date, clock: time, now: datetime) -> datetime:
    """A day and its clock in local time: the machine's zone, where `now` stands in it, else the offset of `now`.

    What happened in summer has summer's offset, though it is typed in winter.
    """
    wall = datetime.combine(day, clock)
    if now.astimezone().utcoffset() == now.utcoffset():
        return wall.astimezone()
    return wall.replace(tzinfo=now.tzinfo)


def _exact(text: str, now: datetime) -> datetime | None:
    try:
        found = datetime.fromisoformat(text.upper() if "t" in text.lower() else text)
    except ValueError:
        return None
    if not DATE.match(text) and not re.match(r"\d{8}T", text):
        return None
    if DATE.fullmatch(text):
        if found.date() == now.date():
            return min(placed(now.date(), time(12), now), now)
        return placed(found.date(), time(12), now)
    return found if found.tzinfo else placed(found.date(), found.time(), now)


def _relative(text: str, now: datetime) -> datetime | None:
    if ago := AGO.fullmatch(text):
        return _ago(ago, text, now)
    day, _, clock = text.partition(" ")
    if CLOCK.fullmatch(text):
        day, clock = "today", text
    found = _day(day, now)
    if found is None:
        return None
    if not clock:
        return now if found == now.date() else placed(found, time(12), now)
    at = _clock(clock.strip())
    return placed(found, at, now) if at is not None else None


def _ago(found: re.Match[str], text: str, now: datetime) -> datetime | None:
    """Hours back to the minute; days and weeks back at noon."""
    count = int(found[1]) if found[1].isdigit() else 1
    unit = found[2][0].lower()
    if not text.endswith("ago"):
        return None
    try:
        back = now - timedelta(hours=count * HOURS[unit])
    except OverflowError:
        return None
    return back if unit == "h" else placed(back.date(), time(12), now)


def _ahead(text: str, now: datetime) -> datetime | None:
    day: date | None = None
    if text == "tomorrow":
        day = now.date() + timedelta(days=1)
    elif (weekday := _weekday(text)) is not None:
        day = now.date() + timedelta(days=(weekday - now.weekday() - 1) % 7 + 1)
    elif found := AHEAD.fullmatch(text):
        later = now + timedelta(hours=(int(found[1]) if found[1].isdigit() else 1) * HOURS[found[2][0].lower()])
        if found[2][0].lower() == "h":
            return later
        day = later.date()
    else:
        day = _dotted(text)
    return None if day is None else placed(day, time(12), now)


def _clock(text: str) -> time | None:
    """The time of day, None where there is no such time."""
    found = CLOCK.fullmatch(text)
    if found is None:
        return None
    if text == "noon":
        return time(12)
    hour, minute = int(found[1] or found[4]), int(found[2] or found[5] or 0)
    if found[3]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found[3].lower() == "pm" else 0)
    return time(hour, minute) if hour < 24 and minute < 60 else None


def _weekday(word: str) -> int | None:
    named = word[:3] in WEEKDAYS and (len(word) == 3 or word.endswith("day"))
    return WEEKDAYS.index(word[:3]) if named else None


def _dotted(word: str) -> date | None:
    """The day of 24.12.2026: where dots part it, the day stands first."""
    found = DOTTED.fullmatch(word)
    try:
        return date(int(found[3]), int(found[2]), int(found[1])) if found else None
    except ValueError:
        return None


def _day(word: str, now: datetime) -> date | None:
    if word in ("today", "yesterday"):
        return now.date() - timedelta(days=word == "yesterday")
    if (weekday := _weekday(word)) is not None:
        return now.date() - timedelta(days=(now.weekday() - weekday) % 7)
    if DATE.fullmatch(word):
        try:
            return date.fromisoformat(word)
        except ValueError:
            return None
    return _dotted(word)
