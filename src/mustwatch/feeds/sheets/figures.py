"""The figures of a row: numbers with either decimal sign, gravities in their scale, temperatures in their unit."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date, datetime, time
from typing import Any

from mustwatch.entry.bounds import HIGHEST_SG, LOWEST_SG
from mustwatch.feeds.sheets.grid import Cell, Table, Unclear, words
from mustwatch.feeds.sheets.headings import SCALES
from mustwatch.trade.temperature import celsius_from_fahrenheit

HIGHEST_DEGREES = 60.0
NUMBER = re.compile(r"[+-]?[0-9]{1,7}(?:[.,][0-9]{1,9})?")
SCALED = re.compile(r"([+-]?[0-9.,]+) ?°?(sg|bx|brix|p|plato)", re.IGNORECASE)
DEGREES = re.compile(r"([+-]?[0-9.,]+) ?(?:°|º|deg\.? ?)?([cCfF])")
NOTHING = frozenset({"", "-", "--", "–", "—", "n/a", "na", "none", "k.a.", "n.d."})
MUST_C = (-5.0, 45.0)  # what a must may have in C, and below which figure it would be ice in F
FROZEN_F = 30.0
HIGHEST_F = 120.0


def empty(cell: Cell) -> bool:
    """Whether a cell says that nothing was measured."""
    return words(cell).casefold() in NOTHING


def number(name: str, cell: Cell) -> float | None:
    """The number of a cell; None where it is empty. Raises ValueError."""
    if isinstance(cell, float):
        return cell + 0.0
    if isinstance(cell, datetime | date | time):
        raise ValueError(
            f"{name} {words(cell)!r} is no number: the sheet took it for a date; type it again as a number"
        )
    if empty(cell):
        return None
    text = words(cell).replace("\u2212", "-")
    if not NUMBER.fullmatch(text):
        raise ValueError(f"{name} {text[:30]!r} is no number")
    return float(text.replace(",", ".")) + 0.0


def units_of(columns: Mapping[str, Iterable[Cell]], told: Mapping[str, str], table: Table) -> dict[str, str]:
    """C or F for each temperature column. Raises Unclear where bare figures may be either."""
    return {name: table.units.get(name) or told.get(name) or _unit(name, cells, table)
            for name, cells in columns.items()}  # fmt: skip


def _unit(name: str, cells: Iterable[Cell], table: Table) -> str:
    bare = []
    for cell in cells:
        try:
            value = number(name, cell)
        except ValueError:
            continue
        bare += [value] if value is not None else []
    if not bare:
        return "C"
    in_c = MUST_C[0] <= min(bare) < FROZEN_F and max(bare) <= MUST_C[1]
    if in_c and not (table.fahrenheit and min(bare) >= FROZEN_F):
        return "C"
    if table.fahrenheit and min(bare) >= FROZEN_F and max(bare) <= HIGHEST_F:
        return "F"
    low, high = min(bare), max(bare)
    raise Unclear(f"{name} holds {low:g} to {high:g} without a unit: say --unit {name}=F or --unit {name}=C")


def celsius(name: str, cell: Cell, unit: str) -> float | None:
    """A temperature in C: in its own unit where it carries one, else in the column's."""
    found = DEGREES.fullmatch(words(cell)) if isinstance(cell, str) else None
    value = number(name, found[1] if found else cell)
    if value is None:
        return None
    fahrenheit = (found[2].upper() if found else unit) == "F"
    return round(celsius_from_fahrenheit(value), 2) if fahrenheit else value


def gravity_of(row: Mapping[str, Cell], unit: str) -> dict[str, Any] | None:
    """The gravity of a row as an event has it; None where none was read. Raises ValueError."""
    cell, given = _told(row)
    text, named = _parted(cell)
    value, sample_c = number("gravity", text), celsius("sample_c", row.get("sample_c"), unit)
    if value is None:
        if sample_c is not None:
            raise ValueError("a sample temperature without a gravity; the must's own goes under must_c")
        return None
    scale = SCALES.get(given.lower().lstrip("°"))
    if scale is None:
        raise ValueError(f"scale {given[:20]!r} is not known; one of sg, brix, plato")
    if named and given and named != scale:
        raise ValueError(f"gravity {words(cell)[:20]!r} and scale {given[:20]!r}: which one?")
    return {"value": _possible(value, named or scale), "scale": named or scale} | (
        {} if sample_c is None else {"sample_c": sample_c}
    )


def _told(row: Mapping[str, Cell]) -> tuple[Cell, str]:
    """The cell of the gravity and the scale that stands beside it or over it."""
    filled = [name for name in ("gravity", "brix", "plato") if not empty(row.get(name))]
    if not filled:
        return None, words(row.get("scale"))
    if filled[0] == "gravity":
        return row["gravity"], words(row.get("scale"))
    return row[filled[0]], filled[0]


def _parted(cell: Cell) -> tuple[Cell, str | None]:
    """A figure and the scale written behind it, where one is: 10.5Bx."""
    found = SCALED.fullmatch(words(cell)) if isinstance(cell, str) else None
    return (found[1], SCALES[found[2].lower()]) if found else (cell, None)


def _possible(value: float, scale: str) -> float:
    if scale == "sg":
        value = round(value / 1000, 9) if value >= 1000 * LOWEST_SG else value
        if not LOWEST_SG <= value <= HIGHEST_SG:
            raise ValueError(
                f"gravity {value:g} is no specific gravity ({LOWEST_SG} to {HIGHEST_SG}); is the scale brix?"
            )
    elif not -5 <= value <= HIGHEST_DEGREES:
        raise ValueError(f"gravity {value:g} is not possible in {scale}")
    return value
