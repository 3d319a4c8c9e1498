"""Rows as CSV, RFC 4180: numbers stay numbers, no sheet takes a text for a formula, nothing acts on a terminal."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from mustwatch.ledger.visible import cell_safe, visible


def table(columns: Sequence[str], rows: Iterable[Mapping[str, Any]], ending: str = "\r\n") -> str:
    """The rows under their columns as CSV; what a row has not is an empty cell. ending: of each line."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator=ending)
    writer.writerow(columns)
    for row in rows:
        writer.writerow([cell(row.get(column)) for column in columns])
    return out.getvalue()


def cell(value: Any) -> str:
    """One field: numbers as they are, times as RFC 3339, text safe and led by an apostrophe where it were a formula.

    >>> cell(-0.5), cell("-0.5"), cell("=1+1"), cell(True), cell(None)
    ('-0.5', "'-0.5", "'=1+1", 'yes', '')
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{round(value, 6) + 0:.10g}" if isinstance(value, float) else str(value)
    if isinstance(value, datetime):
        return value.isoformat()
    first, *more = str(value).replace("\r\n", "\n").split("\n")
    # A sheet judges a field by its first sign; a line feed in it is no fault, signs that act are drawn.
    led = cell_safe(first) if first or not more else "'"
    return "\n".join([led, *(visible(line) for line in more)])


def unescaped(text: str) -> str:
    """The text of a field without the apostrophe that `cell` put before what were a formula.

    >>> unescaped("'=1+1"), unescaped("'tis sweet")
    ('=1+1', "'tis sweet")
    """
    return text[1:] if text[:1] == "'" and cell(text[1:]) == text else text
