"""Readings from a CSV table, row by row: what each means, or what is wrong with it. Pure.

The header row has the names batch, at, gravity, scale, sample_c, must_c, ph,
note; other names are mapped. Fields are parted by commas, semicolons or tabs.
A number may have a decimal comma. A gravity from 950 on is read as points
(1042 is 1.042) and may carry its scale (10.5Bx); a temperature is in C unless
it carries its own scale (70F). A time without an offset is local; a day
without a time means noon.
"""

import csv
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from mustwatch.entry.pot import HIGHEST_SG, LOWEST_SG
from mustwatch.feeds.incoming import BadRow, Incoming
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import Event
from mustwatch.trade.temperature import celsius_from_fahrenheit

COLUMNS = ("batch", "at", "gravity", "scale", "sample_c", "must_c", "ph", "note")
SCALES = {"": "sg", "sg": "sg", "brix": "brix", "bx": "brix", "plato": "plato", "p": "plato"}
HIGHEST_DEGREES = 60.0
NUMBER = re.compile(r"[+-]?[0-9]{1,7}(?:[.,][0-9]{1,9})?")
SCALED = re.compile(r"([+-]?[0-9.,]+) ?°?(sg|bx|brix|p|plato)", re.IGNORECASE)
DEGREES = re.compile(r"([+-]?[0-9.,]+) ?°?([cCfF])")
SEPARATOR = re.compile(r"sep=([,;\t])[ \t]*(?:\r?\n|\r)?", re.IGNORECASE)
DATED = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
AHEAD = timedelta(minutes=5)


@dataclass(frozen=True, slots=True)
class Table:
    """How to read a table. names: our column -> the table's; batch: for rows that name none.

    now: no reading can be later; local: gives a time without offset the local one;
    date_format: as of strptime, for times that are not written year first.
    """

    now: datetime
    local: Callable[[datetime], datetime]
    names: Mapping[str, str] = field(default_factory=dict)
    batch: str | None = None
    date_format: str | None = None


def from_csv(text: str, table: Table) -> Incoming:
    """The events of a CSV text, one a row. Raises ValueError where its header cannot be used."""
    text = text.removeprefix("\ufeff")
    told = SEPARATOR.match(text)
    if told:
        # A spreadsheet's word on what parts the fields; the line stays, so that rows keep their numbers.
        text = text[told.end() - 1 :] if told[0].endswith("\n") else text[told.end() :]
    rows = csv.reader(text.splitlines(keepends=True), delimiter=told[1] if told else _delimiter(text), strict=True)
    found = Incoming()
    try:
        header = [name.strip() for name in next((row for row in rows if any(cell.strip() for cell in row)), [])]
        where = _columns(header, table)
        found.unused = tuple(name for at, name in enumerate(header) if name and at not in where.values())
        for cells in rows:
            if any(cell.strip() for cell in cells):
                _take(found, rows.line_num, cells, len(header), where, table)
    except csv.Error as why:
        found.bad.append(BadRow(rows.line_num, f"not CSV: {why}"))
    return found


def _delimiter(text: str) -> str:
    """What parts the fields of the header row."""
    header = text.split("\n", 1)[0]
    return max(",;\t", key=header.count)


def _columns(header: list[str], table: Table) -> dict[str, int]:
    """Where each of our columns stands."""
    if not header:
        raise ValueError("the file is empty; its first row must name the columns")
    for ours, theirs in table.names.items():
        if ours not in COLUMNS:
            raise ValueError(f"{ours} is no column here; the columns are {', '.join(COLUMNS)}")
        if theirs not in header:
            raise ValueError(f"there is no column {theirs!r}; the file has: {', '.join(header)}")
    wanted = {ours: table.names.get(ours, ours) for ours in COLUMNS}
    lowered = [name.lower() for name in header]
    where: dict[str, int] = {}
    for ours, name in wanted.items():
        hits = [at for at, shown in enumerate(header if ours in table.names else lowered) if shown == name]
        if len(hits) > 1:
            raise ValueError(f"the column {name!r} stands twice")
        where |= {ours: hits[0]} if hits else {}
    needed = {"at": "at", "batch": "batch (or name one with --batch)"}
    missing = [needed[name] for name in needed if name not in where and not (name == "batch" and table.batch)]
    if missing:
        raise ValueError(f"no column {' and no column '.join(missing)}; map yours, such as --column at=Date")
    return where


def _take(found: Incoming, line: int, cells: list[str], width: int, where: Mapping[str, int], table: Table) -> None:
    row = {ours: cells[at].strip() for ours, at in where.items() if at < len(cells)}
    try:
        if len(cells) > width:
            raise ValueError(
                f"{len(cells)} fields under {width} columns; put quotes around text with a separator in it"
            )
        found.events.append((line, _event(row, table)))
    except ValueError as why:
        found.bad.append(BadRow(line, str(why)))


def _event(row: Mapping[str, str], table: Table) -> Event:
    keys: dict[str, Any] = {"note": row.get("note") or None}
    keys["must_c"] = _celsius("must_c", row.get("must_c", ""))
    keys["ph"] = _number("ph", row.get("ph", ""))
    keys["gravity"] = _gravity(row)
    at = _at(row.get("at", ""), table)
    batch = (row.get("batch") or table.batch or "").lower()
    if not batch:
        raise ValueError("no batch is named")
    if not any(value is not None for value in keys.values()):
        raise ValueError("nothing to record: no gravity, temperature, pH or note")
    kind = "noted" if all(value is None for name, value in keys.items() if name != "note") else "read"
    return draft(kind, at, batch, **{name: value for name, value in keys.items() if value is not None})


def _number(name: str, text: str) -> float | None:
    if not text:
        return None
    if not NUMBER.fullmatch(text):
        raise ValueError(f"{name} {text[:30]!r} is no number")
    return float(text.replace(",", ".")) + 0.0


def _parted(text: str) -> tuple[str, str | None]:
    """A figure and the scale written behind it, where one is: 10.5Bx."""
    found = SCALED.fullmatch(text)
    return (found[1], SCALES[found[2].lower()]) if found else (text, None)


def _celsius(name: str, text: str) -> float | None:
    """A temperature in C, from its own scale where it carries one."""
    found = DEGREES.fullmatch(text)
    if found is None:
        return _number(name, text)
    value = _number(name, found[1])
    assert value is not None
    return value if found[2] in "cC" else round(celsius_from_fahrenheit(value), 2)


def _gravity(row: Mapping[str, str]) -> dict[str, Any] | None:
    text, named = _parted(row.get("gravity", ""))
    value, sample_c = _number("gravity", text), _celsius("sample_c", row.get("sample_c", ""))
    if value is None:
        if sample_c is not None:
            raise ValueError("a sample temperature without a gravity; the must's own goes under must_c")
        return None
    scale = SCALES.get(row.get("scale", "").lower().lstrip("°"))
    if scale is None:
        raise ValueError(f"scale {row['scale'][:20]!r} is not known; one of sg, brix, plato")
    if named and row.get("scale") and named != scale:
        raise ValueError(f"gravity {row['gravity'][:20]!r} and scale {row['scale'][:20]!r}: which one?")
    scale = named or scale
    if scale == "sg":
        value = value / 1000 if value >= 1000 * LOWEST_SG else value
        if not LOWEST_SG <= value <= HIGHEST_SG:
            raise ValueError(
                f"gravity {value:g} is no specific gravity ({LOWEST_SG} to {HIGHEST_SG}); is the scale brix?"
            )
    elif not -5 <= value <= HIGHEST_DEGREES:
        raise ValueError(f"gravity {value:g} is not possible in {scale}")
    return {"value": value, "scale": scale} | ({} if sample_c is None else {"sample_c": sample_c})


def _at(text: str, table: Table) -> datetime:
    try:
        found = _read_time(text, table.date_format)
        found = found if found.tzinfo else table.local(found)
        late = found > table.now + AHEAD
    except (ValueError, OverflowError):
        wanted = table.date_format or "2026-05-01 18:00 or 2026-05-01T18:00:00+02:00 (--date-format names another way)"
        raise ValueError(f"at {text[:40]!r} is no time; write {wanted}") from None
    if late:
        raise ValueError(f"at {text[:40]!r} is still to come")
    return found


def _read_time(text: str, date_format: str | None) -> datetime:
    if date_format:
        found = datetime.strptime(text, date_format)
        timed = any(sign in date_format for sign in ("%H", "%I", "%T", "%X", "%c"))
        return found if timed else found.replace(hour=12)
    if not DATED.match(text):
        raise ValueError(text)
    return datetime.fromisoformat(text).replace(hour=12) if len(text) == 10 else datetime.fromisoformat(text)
