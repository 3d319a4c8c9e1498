"""Days and times as spreadsheets hold them; what could be day-first or month-first is asked about, never guessed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from mustwatch.feeds.sheets.grid import Cell, Order, Table, Unclear, words
from mustwatch.feeds.sheets.headings import plain
from mustwatch.said.dates import day

AHEAD = timedelta(minutes=5)
NOON = time(12)
DATED = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
FIGURES = re.compile(r"(\d{1,4})([./-]) ?(\d{1,2})\2 ?(\d{2}|\d{4})(?!\d)[, T]*(.*)", re.DOTALL)
SHORT = re.compile(r"(\d{2})[./-](\d{1,2})[./-](\d{2})(?!\d)")
LONG_AGO = 20  # years; older than that no diary is brought in with years of two figures
DAY_THEN_MONTH = re.compile(r"(\d{1,2})(?:st|nd|rd|th|er|\.)?[ -]?(?:of )?([a-z]+)[., -]*(\d{4}|\d{2})(?!\d)[, ]*(.*)")
MONTH_THEN_DAY = re.compile(r"([a-z]+)[. -]*(\d{1,2})(?:st|nd|rd|th)?[, -]+(\d{4}|\d{2})(?!\d)[, ]*(.*)")
CLOCK = re.compile(r"(?:at |um |a |@ ?)?(\d{1,2})(?:[:.h](\d{2})(?::(\d{2}))?)? ?([ap]\.?m\.?|uhr|h)?", re.IGNORECASE)
WEEKDAY = re.compile(
    r"(?:mo|mon|monday|montag|lun|lundi|di|tu|tue|tues|tuesday|dienstag|mar|mardi|we|wed|wednesday|mi|mittwoch|mer|"
    r"mercredi|th|thu|thur|thurs|thursday|do|donnerstag|jeu|jeudi|fr|fri|friday|freitag|ven|vendredi|sa|sat|saturday|"
    r"samstag|sam|samedi|sonnabend|so|su|sun|sunday|sonntag|dim|dimanche)\.?,? +(?=\d|[a-z])"
)
MONTHS = (
    "january jan januar jaenner janvier janv", "february feb februar fevrier fevr fev", "march mar maerz mrz mars marz",
    "april apr avril avr", "may mai", "june jun juni juin", "july jul juli juillet juil",
    "august aug aout", "september sep sept septembre", "october oct oktober okt octobre",
    "november nov novembre", "december dec dezember dez decembre",
)  # fmt: skip
MONTH = {name: number for number, names in enumerate(MONTHS, 1) for name in names.split()}


@dataclass(frozen=True, slots=True)
class Written:
    """A day as figures whose order is not settled by themselves, and the clock behind it."""

    first: int
    second: int
    year: int
    clock: time | None
    text: str

    def day(self, order: Order) -> date | None:
        """The day in one order; None where there is no such day."""
        day, month = (self.first, self.second) if order == "day-first" else (self.second, self.first)
        try:
            return date(self.year, month, day)
        except ValueError:
            return None


def order_of(cells: Iterable[Cell], table: Table) -> tuple[Order | None, str | None]:
    """(the order of day and month, how it is known in words) of a column. Raises Unclear where it may be either."""
    if table.order:
        return table.order, f"dates read {table.order}, as told"
    cells = list(cells)
    if not table.date_format:
        _year_stands_last(cells, table.now)
    found = [one for cell in cells if isinstance(one := _read_soundly(cell), Written)]
    if found and any(isinstance(cell, date) for cell in cells):
        # A sheet turns 05/06 into a day in its own order and leaves 25/06 as text: then both are in doubt.
        raise Unclear(
            f"{found[0].text[:20]!r} is text among true dates, which the sheet may have read in the other order:"
            " make it a date, look at the others, or say --dates"
        )
    if not found:
        return None, None
    able: list[Order] = [order for order in ORDERS if any(one.day(order) for one in found)]
    whole = [order for order in able if all(one.day(order) for one in found)]
    open_ones = [one for one in found if one.first != one.second and one.day("day-first") and one.day("month-first")]
    if len(whole) == 1:
        other = ORDERS[1 - ORDERS.index(whole[0])]
        if _steps_back(open_ones, whole[0]) <= _steps_back(open_ones, other):
            proof = next(one.text for one in found if not one.day(other))
            return whole[0], f"dates read {whole[0]}: {proof} can be nothing else"
    if open_ones:
        raise Unclear(_question(open_ones[0]))
    settled = whole or able
    return settled[0] if settled else None, None


def _year_stands_last(cells: Sequence[Cell], now: datetime) -> None:
    """Raises Unclear where years of two figures may stand first as well: 26/05/14 in a sheet of this year.

    A day changes from row to row and a year hardly does; where the first figures change no more than the last, who can
    tell.
    """
    short = [found for cell in cells if isinstance(cell, str) and (found := SHORT.match(words(cell)))]
    parts = [tuple(map(int, found.groups())) for found in short]
    newest = now.year % 100
    if not parts or not all(newest - LONG_AGO <= y <= newest and 1 <= m <= 12 and 1 <= d <= 31 for y, m, d in parts):
        return
    if len({first for first, _, _ in parts}) <= len({last for _, _, last in parts}):
        raise Unclear(
            f"{short[0][0]!r} may have its year first or last: write it in four figures,"
            " or say --dates day-first or --dates month-first"
        )


def _read_soundly(cell: Cell) -> datetime | Written | None:
    try:
        return _read(cell, None)
    except ValueError:
        return None


ORDERS: tuple[Order, Order] = ("day-first", "month-first")


def _steps_back(found: Sequence[Written], order: Order) -> int:
    days = [day for one in found if (day := one.day(order))]
    return sum(later < earlier for earlier, later in zip(days, days[1:], strict=False))


def _question(one: Written) -> str:
    first, second = one.day("day-first"), one.day("month-first")
    assert first and second
    year = datetime(first.year, 1, 1, tzinfo=UTC)
    said = [day(datetime(each.year, each.month, each.day, tzinfo=UTC), year) for each in (first, second)]
    return f"{one.text[:20]!r} may be {said[0]} or {said[1]}: say --dates day-first or --dates month-first"


def moment_of(cell: Cell, clock: Cell, order: Order | None, table: Table) -> datetime:
    """The moment a row happened. Raises ValueError saying what would be right."""
    try:
        found = _moment(cell, clock, order, table)
    except (ValueError, OverflowError, IndexError):
        wanted = table.date_format or "2026-05-01 18:00 or 2026-05-01T18:00:00+02:00 (--date-format names another way)"
        also = " (the number of a day? give its column the format of a date)" if _serial(cell) else ""
        raise ValueError(f"at {_shown(cell, clock)!r} is no time{also}; write {wanted}") from None
    found = found if found.tzinfo else table.local(found)
    if found > table.now + AHEAD:
        raise ValueError(f"at {_shown(cell, clock)!r} is still to come")
    return found


def _shown(cell: Cell, clock: Cell) -> str:
    return " ".join(part for part in (words(cell)[:40], words(clock)[:20]) if part)


def _serial(cell: Cell) -> bool:
    text = words(cell)
    return text.isascii() and text.isdigit() and len(text) == 5


def _moment(cell: Cell, clock: Cell, order: Order | None, table: Table) -> datetime:
    told = clock_of(clock) if words(clock) else None
    if words(clock) and told is None:
        raise ValueError(words(clock))
    if table.date_format and isinstance(cell, str):
        found = datetime.strptime(words(cell), table.date_format)
        timed = any(sign in table.date_format for sign in ("%H", "%I", "%T", "%X", "%c"))
        return found if timed and told is None else datetime.combine(found.date(), told or NOON)
    read = _read(cell, told)
    if isinstance(read, datetime):
        return read
    if read is None or order is None and read.first != read.second:
        raise ValueError(words(cell))
    day = read.day(order or "day-first")
    if day is None:
        raise ValueError(words(cell))
    return datetime.combine(day, read.clock or NOON)


def _read(cell: Cell, told: time | None) -> datetime | Written | None:
    """The moment of a cell, or its figures where their order is open; None where it is no day."""
    if isinstance(cell, datetime):
        return datetime.combine(cell.date(), told, cell.tzinfo) if told else cell
    if isinstance(cell, date):
        return datetime.combine(cell, told or NOON)
    text = words(cell)
    if DATED.match(text):
        return _iso(text, told)
    if found := FIGURES.fullmatch(text) or FIGURES.fullmatch(WEEKDAY.sub("", text.casefold(), count=1)):
        return _figures(found, text, told)
    return _named(WEEKDAY.sub("", _bare(text), count=1), told)


def _iso(text: str, told: time | None) -> datetime | None:
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        clock = clock_of(text[10:].strip())
        return datetime.combine(date.fromisoformat(text[:10]), clock) if clock else None
    return datetime.combine(found.date(), told or NOON) if len(text) == 10 else found


def _figures(found: re.Match[str], text: str, told: time | None) -> datetime | Written | None:
    first, sign, second, third, rest = found.groups()
    clock = clock_of(rest) if rest.strip() else told
    if rest.strip() and clock is None:
        return None
    if len(first) == 4:
        return datetime.combine(date(int(first), int(second), int(third)), clock or NOON) if len(third) <= 2 else None
    if len(first) > 2:
        return None
    written = Written(int(first), int(second), _year(third), clock, text)
    if sign == "." and (day := written.day("day-first")):
        # Where dots part it, the day stands first.
        return datetime.combine(day, clock or NOON)
    return written


def _named(text: str, told: time | None) -> datetime | None:
    """The moment of a day whose month is a word."""
    if found := DAY_THEN_MONTH.fullmatch(text):
        day, name, year, rest = found.groups()
    elif found := MONTH_THEN_DAY.fullmatch(text):
        name, day, year, rest = found.groups()
    else:
        return None
    clock = clock_of(rest) if rest.strip() else told
    if name not in MONTH or (rest.strip() and clock is None):
        return None
    return datetime.combine(date(_year(year), MONTH[name], int(day)), clock or NOON)


def _bare(text: str) -> str:
    """Small letters without accents; the signs of a date and a clock stay."""
    return "".join(sign if not sign.isalpha() else plain(sign.replace("ä", "ae").replace("Ä", "ae")) for sign in text)


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else 2000 + int(text) if int(text) < 70 else 1900 + int(text)


def clock_of(cell: Cell) -> time | None:
    """The time of day of a cell or a text such as 18:00, 6:30 pm, 18h30, 18.30 Uhr; None where it is none."""
    if isinstance(cell, datetime):
        return cell.time()
    if isinstance(cell, time):
        return cell
    found = CLOCK.fullmatch(words(cell))
    if found is None or not (found[2] or found[4]):
        return None
    hour, minute, second = int(found[1]), int(found[2] or 0), int(found[3] or 0)
    half = (found[4] or "").lower().replace(".", "")
    if half in ("am", "pm"):
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if half == "pm" else 0)
    return time(hour, minute, second) if hour < 24 and minute < 60 and second < 60 else None
