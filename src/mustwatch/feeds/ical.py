"""What falls due as a calendar, RFC 5545: written anew over the old file, with each fact under its own name for good.

The `icalendar` library comes with the extra `calendar`.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, timedelta
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mustwatch.feeds.written import Unwritable, put
from mustwatch.ledger.visible import visible, visible_lines

if TYPE_CHECKING:
    from mustwatch.rules.due import Due

EXTRA = "calendars need the extra: python -m pip install 'mustwatch[calendar]'"
OURS = "@mustwatch"
ALARM = timedelta(hours=9)  # into the day: nine in the morning, local time, for a day has no zone
KEPT_DAYS = 60  # so long an entry that is no longer due stays in the file as cancelled, for calendars that copied it
MOST_BYTES = 32 * 1024 * 1024
MOVED = ("DTSTART", "SUMMARY", "STATUS")  # a change of these is a new revision of the entry


def uid_of(due: Due) -> str:
    """The name of a fact, the same whenever it is written: from its batch, its kind and what it first rests on."""
    parts = (due.batch, due.kind, *due.evidence[:1])
    return hashlib.sha256("\x1f".join(parts).encode("utf-8", "backslashreplace")).hexdigest()[:32] + OURS


def write_calendar(path: Path, found: Iterable[Due], now: datetime, stamp: datetime) -> int:
    """How many entries are due in the calendar written at `path`; the old file is replaced whole or stays as it is.

    now: the day that counts as today; stamp: when it is written. Raises Unwritable where the file there is not ours or
    the library is missing, OSError where the disk refuses.
    """
    known = _known(path)
    entries = {uid_of(due): due for due in reversed(list(found))}
    calendar = _calendar()
    for uid, due in sorted(entries.items(), key=lambda pair: (pair[1].on, pair[0])):
        calendar.add_component(_revised(_event(uid, due, now), known.get(uid), stamp))
    for uid, old in known.items():
        if uid not in entries and (gone := _cancelled(old, now, stamp)) is not None:
            calendar.add_component(gone)
    put(path, calendar.to_ical())
    return len(entries)


def _library() -> Any:
    try:
        import icalendar
    except ImportError:
        raise Unwritable(EXTRA) from None
    return icalendar


def _calendar() -> Any:
    calendar = _library().Calendar()
    try:
        release = version("mustwatch")
    except PackageNotFoundError:
        release = "0"
    calendar.add("PRODID", f"-//mustwatch//mustwatch {release}//EN")
    calendar.add("VERSION", "2.0")
    calendar.add("X-WR-CALNAME", "mustwatch")
    return calendar


def _known(path: Path) -> dict[str, Any]:
    """The entries of the file that is there, by name. Raises Unwritable where any of it is not ours."""
    icalendar = _library()
    if not path.exists():
        return {}
    if not path.is_file() or path.is_symlink():
        raise Unwritable("it is no plain file")
    if path.stat().st_size > MOST_BYTES:
        raise Unwritable("it is too large to be a calendar of this program")
    try:
        old = icalendar.Calendar.from_ical(path.read_bytes())
    except Exception:
        raise Unwritable("what is there is no calendar; move it away, or name another file") from None
    events = old.walk("VEVENT")
    others = [event for event in events if not str(event.get("UID", "")).endswith(OURS)]
    if others or not str(old.get("PRODID", "")).startswith("-//mustwatch//"):
        raise Unwritable("it holds what this program did not write; name another file")
    return {str(event["UID"]): event for event in events}


def _event(uid: str, due: Due, now: datetime) -> Any:
    event, day = _library().Event(), _day(due.on, now)
    event.add("UID", uid)
    event.add("SUMMARY", f"{visible(due.batch)}: {visible(due.what)}")
    event.add("DESCRIPTION", "\n".join(visible_lines(due.why)))
    event.add("CATEGORIES", [due.severity.word, due.source])
    event.add("DTSTART", day)
    event.add("DTEND", day + timedelta(days=1))
    event.add("TRANSP", "TRANSPARENT")
    event.add("STATUS", "CONFIRMED")
    event.add_component(_alarm(due))
    return event


def _alarm(due: Due) -> Any:
    alarm = _library().Alarm()
    alarm.add("ACTION", "DISPLAY")
    alarm.add("DESCRIPTION", f"{visible(due.batch)}: {visible(due.what)}")
    alarm.add("TRIGGER", ALARM)
    return alarm


def _day(on: datetime, now: datetime) -> date:
    return max(on, now).astimezone(now.tzinfo).date()


def _revised(event: Any, old: Any | None, stamp: datetime) -> Any:
    """The entry with its revision: as it was where nothing changed, a new one where its day or what to do did."""
    if old is None:
        return _stamped(event, 0, None, None, stamp)
    sequence = _sequence(old) + (0 if all(_same(event, old, key) for key in MOVED) else 1)
    if sequence == _sequence(old) and _same(event, old, "DESCRIPTION"):
        return _stamped(event, sequence, old.decoded("LAST-MODIFIED", None), old.decoded("DTSTAMP", None), stamp)
    return _stamped(event, sequence, None, None, stamp)


def _same(event: Any, old: Any, key: str) -> bool:
    return event.decoded(key, None) == old.decoded(key, None)


def _sequence(old: Any) -> int:
    try:
        return max(0, int(old.get("SEQUENCE", 0)))
    except (TypeError, ValueError):
        return 0


def _stamped(event: Any, sequence: int, modified: Any, written: Any, stamp: datetime) -> Any:
    at = stamp.astimezone(UTC).replace(microsecond=0)
    event.add("SEQUENCE", sequence)
    event.add("LAST-MODIFIED", modified if isinstance(modified, datetime) else at)
    event.add("DTSTAMP", written if isinstance(written, datetime) else at)
    return event


def _cancelled(old: Any, now: datetime, stamp: datetime) -> Any | None:
    """An entry that is no longer due, marked so; None where its day is long past."""
    start = old.decoded("DTSTART", None)
    if not isinstance(start, date) or isinstance(start, datetime) or now.date() - start > timedelta(days=KEPT_DAYS):
        return None
    if str(old.get("STATUS", "")) == "CANCELLED":
        return old
    fresh = _library().Event()
    kept: Mapping[str, Any] = {key: old[key] for key in ("UID", "SUMMARY", "DESCRIPTION", "CATEGORIES") if key in old}
    for key, value in kept.items():
        fresh[key] = value
    fresh.add("DTSTART", start)
    fresh.add("DTEND", start + timedelta(days=1))
    fresh.add("TRANSP", "TRANSPARENT")
    fresh.add("STATUS", "CANCELLED")
    return _stamped(fresh, _sequence(old) + 1, None, None, stamp)
