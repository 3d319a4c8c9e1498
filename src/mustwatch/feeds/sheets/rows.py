"""Readings from sheets, row by row: what each means, or what is wrong with it. Pure.

A row names the columns: batch, at, time, gravity, scale, brix, plato, sample_c, must_c, air_c, ph, ta_g_l,
free_so2_mg_l, added, note, or what people call these; --column maps others. A number may have a decimal comma. A
gravity from 950 on is read as points (1042 is 1.042) and may carry its scale (10.5Bx); a temperature may carry its
unit (70F). A time without an offset is local; a day without a time means noon.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from mustwatch.feeds.incoming import BadRow, Incoming, Part
from mustwatch.feeds.sheets.days import moment_of, order_of
from mustwatch.feeds.sheets.figures import celsius, empty, gravity_of, number, units_of
from mustwatch.feeds.sheets.grid import Cell, Order, Row, Sheet, Table, words
from mustwatch.feeds.sheets.headings import TEMPERATURES, Columns, columns_of
from mustwatch.feeds.table import unescaped
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import TAG, Event

EMPTY_NAMES = re.compile(r"(?:sheet|tabelle|table|tableau|feuille|feuil|hoja|foglio|blad) ?\.?[0-9]*", re.IGNORECASE)
NAME = re.compile(r"[\w .,'’#&()+-]{1,60}")
MEASURES = ("ph", "ta_g_l", "free_so2_mg_l")


@dataclass(frozen=True, slots=True)
class _Reader:
    """How the rows of one sheet are read."""

    table: Table
    sheet: Sheet
    columns: Columns
    order: Order | None
    units: Mapping[str, str]
    batch: str | None


def from_sheets(sheets: Sequence[Sheet], table: Table) -> Incoming:
    """The events of a file's sheets, one a row. Raises ValueError where its header cannot be used, Unclear."""
    found = Incoming()
    laid, why = _laid(sheets, table, found)
    if not laid:
        raise ValueError(why or "the file is empty; a row must name the columns")
    order, proof = order_of([cell for sheet, columns in laid for cell in _column(sheet, columns, "at")], table)
    for sheet, columns in laid:
        units = units_of({name: _column(sheet, columns, name) for name in TEMPERATURES if name in columns.where},
                         columns.units, table)  # fmt: skip
        batch = None if "batch" in columns.where else table.batch or sheet.name
        reader = _Reader(table, sheet, columns, order, units, batch)
        found.parts.append(_said(reader, proof))
        found.unused += columns.unused
        for row in _rows(reader):
            _take(found, row, reader)
    _different_names(found, table)
    return found


def _laid(sheets: Sequence[Sheet], table: Table, found: Incoming) -> tuple[list[tuple[Sheet, Columns]], str]:
    """The sheets whose columns are named; the others are told, and why where none is."""
    laid, why = [], ""
    filled = [sheet for sheet in sheets if not all(row.blank for row in sheet.rows)]
    for sheet in filled:
        named = bool(sheet.name) and not EMPTY_NAMES.fullmatch(sheet.name or "")
        try:
            laid.append((sheet, columns_of(sheet.rows, table.names, named or table.batch is not None)))
        except ValueError as error:
            why = f"{sheet.name}: {error}" if len(filled) > 1 else str(error)
            if len(filled) > 1:
                found.skipped.append(why)
    return laid, why


def _said(reader: _Reader, proof: str | None) -> Part:
    """What was understood of a sheet, before any of its rows."""
    columns = dict(reader.columns.names)
    told = [*reader.sheet.told, *([proof] if proof else [])]
    told += [f"{name} in {unit}" for name, unit in reader.units.items()]
    return Part(reader.sheet.name, columns, tuple(told))


def _column(sheet: Sheet, columns: Columns, name: str) -> list[Cell]:
    at = columns.where[name]
    return [row.cells[at] for row in sheet.rows[columns.row + 1 :] if at < len(row.cells)]


def _rows(reader: _Reader) -> list[Row]:
    """The rows under the header; one that only names units under the headings says nothing."""
    rows = list(reader.sheet.rows[reader.columns.row + 1 :])
    if rows and not rows[0].blank and rows[0].odd is None:
        at = reader.columns.where["at"]
        cells = [words(cell) for cell in rows[0].cells]
        units = {"", "c", "°c", "f", "°f", "sg", "bx", "°bx", "ph", "g/l", "mg/l", "plato", "brix"}
        if (at >= len(cells) or not cells[at]) and all(cell.casefold() in units for cell in cells):
            return rows[1:]
    return rows


def _take(found: Incoming, row: Row, reader: _Reader) -> None:
    name = reader.sheet.name
    if row.odd:
        found.bad.append(BadRow(row.line, row.odd, name))
    elif not row.blank:
        try:
            events = _events(row, reader, found)
        except ValueError as why:
            found.bad.append(BadRow(row.line, str(why), name))
        else:
            if not events:
                found.dates_only.append((row.line, name))
            for event in events:
                found.events.append((row.line, event))
                found.sheets.append(name)


def _events(row: Row, reader: _Reader, found: Incoming) -> list[Event]:
    """What a row tells: a reading or a note, and what went in."""
    cells = {ours: row.cells[at] for ours, at in reader.columns.where.items() if at < len(row.cells)}
    _not_torn(row, reader)
    keys: dict[str, Any] = {"note": _note(row, reader.columns)}
    for name in ("must_c", "air_c"):
        keys[name] = celsius(name, cells.get(name), reader.units.get(name, "C"))
    keys |= {name: number(name, cells.get(name)) for name in MEASURES}
    keys["gravity"] = gravity_of(cells, reader.units.get("sample_c", "C"))
    at = moment_of(cells.get("at"), cells.get("time"), reader.order, reader.table)
    called = words(cells.get("batch")) or reader.batch or ""
    if not called:
        raise ValueError("no batch is named")
    tag = tag_of(called, reader.table)
    given, added = _with_added(keys, words(cells.get("added")))
    if not given and not added:
        return []
    found.called.setdefault(tag, {})[called] = None
    if sum(not empty(cells.get(name)) for name in ("gravity", "brix", "plato")) > 1:
        found.doubled.append((row.line, reader.sheet.name))
    kind = "noted" if set(given) == {"note"} else "read"
    first = [draft(kind, at, tag, **given)] if given else []
    return first + [draft("added", at, tag, **one) for one in added]


def _with_added(keys: dict[str, Any], text: str) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """The keys of the reading, and of each addition; prose about additions goes into the note."""
    given = {name: value for name, value in keys.items() if value is not None}
    if not text:
        return given, []
    from mustwatch.feeds.sheets.additions import additions_of

    added = additions_of(text)
    if not added:
        given["note"] = "; ".join(part for part in (given.get("note"), text) if part)
    elif set(given) == {"note"}:
        added[0]["note"] = "; ".join(part for part in (given.pop("note"), added[0].get("note")) if part)
    return given, added


def _not_torn(row: Row, reader: _Reader) -> None:
    """Raises ValueError where a number was torn in two by the sign that parts the fields."""
    width = reader.columns.width
    extra = [cell for cell in row.cells[width:] if words(cell)]
    if extra:
        raise ValueError(
            f"{len(row.cells)} fields under {width} columns; put quotes around text with a separator in it"
        )
    at = reader.columns.where.get("gravity")
    if reader.sheet.commas and at is not None and at + 1 < len(row.cells):
        whole, rest = words(row.cells[at]), words(row.cells[at + 1])
        if whole in ("0", "1") and re.fullmatch(r"[0-9]{2,4}", rest):
            raise ValueError(
                f"gravity {whole} and {rest} beside it: a number with a decimal comma? put quotes around it"
            )


def _note(row: Row, columns: Columns) -> str | None:
    texts = [unescaped(words(row.cells[at])) for at in columns.notes if at < len(row.cells)]
    return "; ".join(text for text in texts if text) or None


def tag_of(called: str, table: Table) -> str:
    """The tag of what a sheet calls a batch: told, known here, or made of its letters. Raises ValueError."""
    if called in table.tags:
        return table.tags[called]
    lowered = called.casefold()
    if lowered in table.known:
        return table.known[lowered]
    if TAG.fullmatch(lowered):
        return lowered
    bare = unicodedata.normalize("NFKD", lowered.replace("ß", "ss"))
    tag = re.sub(r"[^a-z0-9]+", "-", "".join(sign for sign in bare if not unicodedata.combining(sign))).strip("-")
    if not NAME.fullmatch(called) or not TAG.fullmatch(tag):
        raise ValueError(f"tag {called[:40]!r}: use small letters, digits and dashes, such as heather-2")
    return tag


def _different_names(found: Incoming, table: Table) -> None:
    """Refuses the rows of two names that would come under one tag."""
    for tag, names in found.called.items():
        kinds = {name for name in names if name not in table.tags and name.casefold() not in table.known}
        if len({re.sub(r"[\s_-]+", " ", name.casefold()) for name in kinds}) > 1:
            line, place = next((n, place) for place, (n, event) in enumerate(found.events) if event.batch == tag)
            both = " and ".join(repr(name) for name in sorted(kinds)[:3])
            found.bad.append(BadRow(line, f"{both} would both be {tag}: say --tag NAME=TAG", found.sheets[place]))
