"""The course of a batch in figures: its readings one by one, and the gravities foreseen. Lines without drawn signs."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.ledger.settings import Settings
from mustwatch.said.dates import age, day, moment
from mustwatch.said.figures import CELSIUS, gravity
from mustwatch.said.telling import reading_words

if TYPE_CHECKING:
    from mustwatch.judgement.forecast.outlook import Moment, Outlook

SHOWN_DAYS = (0, 3, 7, 14, 28, 60)


def readings_lines(batch: Batch, now: datetime, settings: Settings = CELSIUS) -> list[str]:
    """A line a reading, oldest first: when, as read and corrected, and how it moved since the one before."""
    if not batch.readings:
        return ["no gravity has been read"]
    lines, last = ["readings, oldest first"], None
    for reading in batch.readings:
        since = f"; {moved(last, reading)}" if last and reading.doubt is None else ""
        lines.append(f"{moment(reading.at, now)}: {reading_words(reading, settings)}{since}")
        last = reading if reading.doubt is None else last
    return lines


def moved(last: Reading, new: Reading) -> str:
    """How the gravity moved from one reading to the next: `down 2.0 points in 2 days`, `no change in 24 hours`."""
    fall = last.points - new.points
    way = "no change" if abs(fall) < 0.05 else f"down {fall:.1f} points" if fall > 0 else f"up {-fall:.1f} points"
    return f"{way} in {age(last.at, new.at)}"


def shown_moments(outlook: Outlook) -> list[Moment]:
    """The moments of an outlook that a short table tells: close at first, wider later."""
    return [m for m in outlook.course if (m.at - outlook.at) / timedelta(days=1) in SHOWN_DAYS]


def course_lines(outlook: Outlook, settings: Settings = CELSIUS) -> list[str]:
    """The gravities foreseen as a table: what it is, its heading, a row a day; nothing where none can be foreseen."""
    if not outlook.course:
        return []
    lines = ["eight in ten readings should fall between low and high", f"{'day':<12}{'low':>8}{'middle':>9}{'high':>9}"]
    for m in shown_moments(outlook):
        low, middle, high = (gravity(value, settings) for value in (m.p10, m.p50, m.p90))
        lines.append(f"{day(m.at, outlook.at):<12}{low:>8}{middle:>9}{high:>9}")
    return lines
