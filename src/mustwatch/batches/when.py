"""Times as people write them: `yesterday 21:00`, `8:30`, `fri`, `2026-05-01 18:00`, or an RFC 3339 time."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
CLOCK = re.compile(r"(\d{1,2})[:.h](\d{2})")
DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
EXAMPLES = "@yesterday 21:00, @8:30, @fri 18:00, @2026-05-01 18:00 or an RFC 3339 time"

LONGEST_AGO = timedelta(days=50 * 366)


def moment(words: str, now: datetime) -> datetime:
    """The past moment that words name, seen from `now` and in its offset.

    A day without a time means noon, today without a time means now. Raises ValueError with one line for what
    is not understood, and for a time still to come: a diary has no future.
    """
    text = words.strip().lstrip("@").strip()
    if text.lower() in ("", "now"):
        return now
    found = _exact(text, now) or _relative(text.lower(), now)
    if found is None:
        raise ValueError(f"@{text[:40]} is no time I know; write {EXAMPLES}")
    if found > now + timedelta(minutes=1):
        raise ValueError(f"@{text[:40]} is still to come; only what has happened can be recorded")
    if found < now - LONGEST_AGO:
        raise ValueError(f"@{text[:40]} is more than fifty years ago; is the year right?")
    return found


def _exact(text: str, now: datetime) -> datetime | None:
    try:
        found = datetime.fromisoformat(text.upper() if "t" in text.lower() else text)
    except ValueError:
        return None
    if DATE.fullmatch(text):
        found = found.replace(hour=12)
        found = min(found, now.replace(tzinfo=None)) if found.date() == now.date() else found
    return found if found.tzinfo else found.replace(tzinfo=now.tzinfo)


def _relative(text: str, now: datetime) -> datetime | None:
    day, _, clock = text.partition(" ")
    if CLOCK.fullmatch(day) and not clock:
        day, clock = "today", day
    date = _day(day, now)
    if date is None:
        return None
    if not clock:
        return (
            now
            if date == now.date()
            else now.replace(year=date.year, month=date.month, day=date.day, hour=12, minute=0, second=0, microsecond=0)
        )
    found = CLOCK.fullmatch(clock.strip())
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        return None
    return now.replace(
        year=date.year, month=date.month, day=date.day,
        hour=int(found[1]), minute=int(found[2]), second=0, microsecond=0,
    )  # fmt: skip


def _day(word: str, now: datetime):
    if word == "today":
        return now.date()
    if word == "yesterday":
        return now.date() - timedelta(days=1)
    if word[:3] in WEEKDAYS and (len(word) == 3 or word.endswith("day")):
        back = (now.weekday() - WEEKDAYS.index(word[:3])) % 7
        return now.date() - timedelta(days=back)
    if DATE.fullmatch(word):
        try:
            return datetime.fromisoformat(word).date()
        except ValueError:
            return None
    return None
