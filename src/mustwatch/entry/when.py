"""Times as people write them: `yesterday 21:00`, `8:30pm`, `fri`, `3 days ago`, `6 Nov 18:30`, `19d`, or RFC 3339.

Whatever date or age `said/dates.py` prints is read here.
"""

import re
from datetime import date, datetime, time, timedelta

from mustwatch.entry.names import MONTHS, WEEKDAYS

DAY_WORDS = ("today", "yesterday", "noon", "midnight")
CLOCK = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?\s*([ap]m)|(\d{1,2})[:.h](\d{2})|noon", re.IGNORECASE)
DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})")
NAMED = re.compile(r"(\d{1,2})\.? ([a-z]{3,9})(?: ((?:19|20)\d{2}))?", re.IGNORECASE)
SPAN = r"(\d{1,4}|an?) ?(h|hours?|d|days?|w|weeks?|y|years?)"
AGO = re.compile(rf"{SPAN}(?: ago)?", re.IGNORECASE)
AHEAD = re.compile(rf"(?:in )?{SPAN}", re.IGNORECASE)
WITH_CLOCK = re.compile(rf"(?:(.+) )?({CLOCK.pattern})", re.IGNORECASE)
DAYS = {"d": 1, "w": 7, "y": 365}
EXAMPLES = "@yesterday 21:00, @8:30, @6 Nov 18:00, @3 days ago or @2026-05-01 18:00"
COMING = "2026-06-01, 6 Nov, tomorrow, fri or 3 days"

LONGEST_AGO = timedelta(days=50 * 366)
LONGEST_AHEAD = timedelta(days=100 * 366)


def moment(words: str, now: datetime) -> datetime:
    """The past moment that words name, seen from `now` and in the local time of that day.

    A day without a time means noon, today without a time means now. Raises ValueError with one line for what
    is not understood, and for a time still to come: a diary has no future.
    """
    text = " ".join(words.strip().lstrip("@").split())
    if text.lower() in ("", "now", "just now"):
        return now
    found = _exact(text, now) or _spoken(text.lower(), now, -1)
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
    found = _exact(text, now) or _spoken(text.lower(), now, 1)
    if found is None:
        raise ValueError(f"{text[:40]!r} is no day I know; write {COMING}")
    if found > now + LONGEST_AHEAD:
        raise ValueError(f"{text[:40]} is more than a hundred years ahead; is the year right?")
    return found


def takes_clock(words: str, following: str) -> bool:
    """Whether the next word still belongs to a time begun with @: its month, year or clock, `pm`, `days ago`."""
    text, more = words.lstrip("@").lower(), following.lower()
    joined = f"{text} {more}"
    if re.fullmatch(r"\d{1,2}(?:[:.]\d{2})?", text.rsplit(" ", 1)[-1]) and more in ("am", "pm"):
        return True
    if joined == "just now" or (AGO.fullmatch(joined) and text != "now") or _month_of(joined):
        return True
    if CLOCK.fullmatch(text) or re.search(r"\dt\d", text):
        return False
    span = AGO.fullmatch(text)
    is_day = span[2][0] != "h" if span else " " not in text or bool(_month_of(text))
    return is_day and bool(CLOCK.fullmatch(more) or (text in DAY_WORDS and re.fullmatch(r"\d{1,2}", more)))


def placed(day: date, clock: time, now: datetime) -> datetime:
    """A day and its clock in local time: the machine's zone, where `now` stands in it, else the offset of `now`.

    What happened in summer has summer's offset, though it is typed in winter.
    """
    wall = datetime.combine(day, clock)
    return in_zone(wall) if now.astimezone().utcoffset() == now.utcoffset() else wall.replace(tzinfo=now.tzinfo)


def in_zone(wall: datetime) -> datetime:
    """A time on the clocks of the machine's zone. Raises ValueError for one that was there twice, or never.

    In the nights of the clock change only an offset tells which is meant: both are offered.
    """
    try:
        first, second = (wall.replace(fold=fold).astimezone() for fold in (0, 1))
    except (ValueError, OverflowError):
        raise ValueError(f"the year {wall.year} is out of range") from None
    if first.utcoffset() == second.utcoffset():
        return first
    was = "was there twice" if first.replace(tzinfo=None) == wall else "was never there"
    either = " or ".join(f"{at.isoformat(timespec='minutes')}" for at in sorted((first, second)))
    raise ValueError(f"{wall:%H:%M} {was} on {wall:%Y-%m-%d}, the clocks changed that night; write {either}")


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


def _spoken(text: str, now: datetime, step: int) -> datetime | None:
    """The moment of spoken words: hours to the minute; a day at its clock, or at noon, or now where it is today.

    step: -1 looks back, 1 ahead.
    """
    span = (AGO if step < 0 else AHEAD).fullmatch(text)
    if span and span[2][0] == "h":
        return now + step * timedelta(hours=_count(span[1]))
    timed = WITH_CLOCK.fullmatch(text)
    day = _day((timed[1] or "today") if timed else text, now, step)
    if day == now.date() and step < 0 and not timed:
        return now
    at = _clock(timed[2]) if timed else time(12)
    return None if day is None or at is None else placed(day, at, now)


def _day(words: str, now: datetime, step: int) -> date | None:
    today = now.date()
    near = {"today": 0, "yesterday": -1} if step < 0 else {"tomorrow": 1}
    weekday = next((place for place, name in enumerate(WEEKDAYS) if words in (name[:3].lower(), name.lower())), None)
    try:
        if words in near:
            return today + timedelta(days=near[words])
        if weekday is not None:
            # The last such day, today among them; ahead the next one.
            back = (today.weekday() - weekday) % 7
            return today - timedelta(days=back if step < 0 else back - 7)
        if span := (AGO if step < 0 else AHEAD).fullmatch(words):
            count = _count(span[1]) * DAYS.get(span[2][0], 0)
            return today + timedelta(days=step * count) if count else None
        if found := DOTTED.fullmatch(words):  # where dots part it, the day stands first
            return date(int(found[3]), int(found[2]), int(found[1]))
        return date.fromisoformat(words) if DATE.fullmatch(words) else _named(words, now, step)
    except (ValueError, OverflowError):
        return None


def _count(word: str) -> int:
    return int(word) if word.isdigit() else 1


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


def _month_of(words: str) -> int | None:
    """The number of the month in `6 nov` or `6 november 2025`."""
    found = NAMED.fullmatch(words)
    months = [number for number, name in enumerate(MONTHS, 1) if found and name.lower().startswith(found[2].lower())]
    return months[0] if months else None


def _named(words: str, now: datetime, step: int) -> date | None:
    """The day of `6 nov 2025`; without a year the last one (step -1) or the next (step 1)."""
    found, month = NAMED.fullmatch(words), _month_of(words)
    if found is None or month is None:
        return None
    for year in (int(found[3]),) if found[3] else (now.year, now.year + step):
        try:
            day = date(year, month, int(found[1]))
        except ValueError:
            continue
        if found[3] or (day - now.date()).days * step >= 0:
            return day
    return None
