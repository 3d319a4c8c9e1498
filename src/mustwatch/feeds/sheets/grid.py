"""A sheet as rows of cells, wherever it came from, and what is asked of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from typing import Literal

Cell = str | float | datetime | date | time | None
Order = Literal["day-first", "month-first"]


class Unclear(ValueError):
    """What a sheet leaves open and nobody may guess; its text is the question."""


@dataclass(frozen=True, slots=True)
class Row:
    """The cells of one row and its line in the file, or its number in the sheet. odd: why it is no row, or None."""

    line: int
    cells: tuple[Cell, ...]
    odd: str | None = None

    @property
    def blank(self) -> bool:
        """Whether nothing is written in it."""
        return all(cell is None or (isinstance(cell, str) and not cell.strip()) for cell in self.cells)


@dataclass(frozen=True, slots=True)
class Sheet:
    """Rows in their order. name: None for text; told: what was found out about the file, in words.

    commas: its fields are parted by commas, so that a decimal comma without quotes would have torn a number in two.
    """

    rows: tuple[Row, ...]
    name: str | None = None
    told: tuple[str, ...] = ()
    commas: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """How to read a table. names: our column -> the table's; batch: for rows that name none.

    now: no reading can be later; local: gives a time without offset the local one;
    date_format: as of strptime, for times that are not written year first; order: whether the day or the month
    stands first; units: our temperature column -> C or F; fahrenheit: the cellar's own unit is F;
    tags: what the table calls a batch -> its tag; known: the same for the batches there are.
    """

    now: datetime
    local: Callable[[datetime], datetime]
    names: Mapping[str, str] = field(default_factory=dict)
    batch: str | None = None
    date_format: str | None = None
    order: Order | None = None
    units: Mapping[str, str] = field(default_factory=dict)
    fahrenheit: bool = False
    tags: Mapping[str, str] = field(default_factory=dict)
    known: Mapping[str, str] = field(default_factory=dict)


def words(cell: Cell) -> str:
    """A cell as its plain text, without blanks around it; blanks of any width inside count as one kind."""
    if isinstance(cell, float):
        return f"{cell:.15g}"
    if cell is None or isinstance(cell, str):
        return (cell or "").replace("\u00a0", " ").replace("\u202f", " ").strip()
    return cell.isoformat()
