"""Workbooks, .xlsx and .ods, as sheets: through readers that come with the extra `sheets`."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from typing import Any

from mustwatch.feeds.sheets.grid import Cell, Row, Sheet

LARGEST_UNPACKED = 1 << 28
MOST_ROWS = 200_000
MOST_COLUMNS = 200
EXTRA = "needs the extra: python -m pip install 'mustwatch[sheets]'; or save the sheet as CSV"
Grid = dict[int, dict[int, Cell]]  # row and column, from 0


class Missing(ValueError):
    """The reader of a workbook is not installed; its text says how to get it."""


def kind_of(data: bytes) -> str | None:
    """`xlsx` or `ods` where the bytes are such a workbook, else None. Raises ValueError for one that cannot be read."""
    if data[:8] == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
        raise ValueError(
            "a workbook of the old binary kind (.xls), or one with a password; save it as .xlsx, .ods or CSV"
        )
    if data[:4] != b"PK\x03\x04":
        return None
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            names = {each.filename for each in packed.infolist()}
            if sum(each.file_size for each in packed.infolist()) > LARGEST_UNPACKED:
                raise ValueError("the workbook unpacks to more than 256 MiB; save the sheet as CSV")
    except zipfile.BadZipFile:
        raise ValueError("a damaged workbook") from None
    if "xl/workbook.xml" in names:
        return "xlsx"
    if "content.xml" in names:
        return "ods"
    raise ValueError("a zip archive, but no workbook (.xlsx or .ods)")


def sheets_of(data: bytes, kind: str) -> tuple[Sheet, ...]:
    """The sheets of a workbook that are not hidden. Raises ValueError, Missing."""
    read = {"xlsx": _xlsx, "ods": _ods}[kind]
    try:
        return tuple(Sheet(_rows(grid), name, (f".{kind}",)) for name, grid in read(data))
    except ImportError:
        raise Missing(f"reading .{kind} {EXTRA}") from None
    except ValueError:
        raise
    except Exception as why:  # a damaged workbook may fail inside its reader in any way at all
        raise ValueError(f"this .{kind} cannot be read ({type(why).__name__}); save the sheet as CSV") from None


def _rows(grid: Grid) -> tuple[Row, ...]:
    """The rows with anything in them, under the numbers a spreadsheet shows."""
    return tuple(
        Row(number + 1, tuple(cells.get(at) for at in range(max(cells) + 1)))
        for number, cells in sorted(grid.items())
        if cells
    )


def _put(grid: Grid, row: int, column: int, cell: Cell) -> None:
    if cell is not None and cell != "":
        if len(grid) > MOST_ROWS or column > MOST_COLUMNS:
            raise ValueError(f"more than {MOST_ROWS} rows or {MOST_COLUMNS} columns are filled; is it the right sheet?")
        grid.setdefault(row, {})[column] = cell


def _xlsx(data: bytes) -> Iterable[tuple[str, Grid]]:
    from openpyxl import load_workbook

    # Read twice: a formula that was never reckoned has no value, and would pass for an empty cell.
    values, formulas = (
        load_workbook(io.BytesIO(data), read_only=True, data_only=only, keep_links=False) for only in (True, False)
    )
    for sheet, twin in zip(values.worksheets, formulas.worksheets, strict=True):
        if sheet.sheet_state != "visible":
            continue
        sheet.reset_dimensions()
        twin.reset_dimensions()
        grid: Grid = {}
        for number, rows in enumerate(zip(sheet.iter_rows(), twin.iter_rows(), strict=True)):
            for column, (cell, written) in enumerate(zip(*rows, strict=True)):
                value = cell.value if cell.value is not None else written.value
                if value is not None:
                    _put(grid, number, column, _plain(value, str(getattr(cell, "number_format", ""))))
        yield sheet.title, grid


def _plain(value: Any, written: str = "") -> Cell:
    """A value as one of our cells; a moment at midnight whose format shows no clock is a day."""
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, datetime):
        bare = value.time() == time() and "h" not in written.lower()
        return value.date() if bare and written else value
    if isinstance(value, timedelta):
        return (datetime.min + value).time() if timedelta() <= value < timedelta(days=1) else str(value)
    if isinstance(value, date | time | str):
        return value
    return float(value)


def _ods(data: bytes) -> Iterable[tuple[str, Grid]]:
    from odfdo import Document

    for table in Document(io.BytesIO(data)).body.get_elements("office:spreadsheet/table:table|table:table"):
        grid: Grid = {}
        number = 0
        for row in table.get_elements(".//table:table-row"):
            cells = list(_ods_cells(row))
            again = int(row.get_attribute("table:number-rows-repeated") or 1)
            for extra in range(again if cells else 0):
                for column, cell in cells:
                    _put(grid, number + extra, column, cell)
            number += again
        yield str(table.get_attribute("table:name") or ""), grid


def _ods_cells(row: Any) -> Iterable[tuple[int, Cell]]:
    """The filled cells of a row with their columns; what is repeated stands in each of its columns."""
    column = 0
    for cell in row.get_elements("table:table-cell|table:covered-table-cell"):
        again = int(cell.get_attribute("table:number-columns-repeated") or 1)
        value = cell.value
        formula = cell.get_attribute("table:formula")
        if formula and value in (None, ""):
            # One that failed shows its error as text alone; one that was never reckoned has no text either.
            shown = cell.get_elements("text:p")
            value = "".join(part.inner_text for part in shown) if shown else formula
        if value is not None and value != "":
            yield from ((column + extra, _plain(value)) for extra in range(min(again, MOST_COLUMNS + 2)))
        column += again
