"""The first frame of the round as plain data, so that it can be made elsewhere while the screens are loaded."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from mustwatch.ledger.visible import cells, visible
from mustwatch.screens.ink import Line
from mustwatch.screens.round.rows import Row, matching, rows_of, tally

if TYPE_CHECKING:
    from mustwatch.screens.look import Look

LIST_WIDTH, WIDE_LIST_WIDTH, WIDE, NARROW = 42, 50, 110, 76  # cells; the same in round.tcss


@dataclass(frozen=True, slots=True)
class Frame:
    """What the first frame shows. top: name of the cellar, how it stands, counts, trouble; detail: of the first row."""

    now: datetime
    name: str
    degrees: str
    read_only: str
    is_past: bool
    counts: tuple[tuple[int, str], ...]
    trouble: str
    rows: tuple[Row, ...]
    detail: tuple[Line, ...]


def detail_width(columns: int) -> int:
    """Cells for the text of the detail pane on a terminal so wide."""
    return max(24, columns - (WIDE_LIST_WIDTH if columns >= WIDE else LIST_WIDTH) - 2)


def top_line(frame: Frame, width: int) -> Line:
    """The top line in `width` cells. What does not fit whole gives way: year, day, name, then the least counts."""
    name = visible(frame.name, limit=24) or "mustwatch"
    trouble = (("! ledger ", "danger"),) if frame.trouble else ()
    counts = [(f"{count} {word} ", word) for count, word in frame.counts] or [("nothing found ", "")]
    held = ", read-only" if frame.is_past else ""
    lead = "" if frame.is_past else "as of "
    clock, a_day = f"{frame.now:%H:%M}", f"{frame.now.day} {frame.now:%b}"
    whens = [f"{lead}{a_day} {frame.now.year} {clock}{held} ", f"{a_day} {clock}{held} ", f"{held[2:] or clock} "]
    for title in (f" {name}  ", " "):
        for when in whens:
            pieces = ((title, "strong"), *trouble, *counts)
            room = width - sum(cells(text) for text, _ in pieces)
            if cells(when) <= room:
                return (*pieces, (when.rjust(room), ""))
    while len(counts) > 1 and sum(cells(text) for text, _ in (*trouble, *counts)) >= width:
        counts.pop()
    return ((" ", "strong"), *trouble, *counts)


def frame_of(look: Look, columns: int | None = None) -> Frame:
    """The first frame of a look, on a terminal so wide; without a width its detail is left out."""
    from mustwatch.screens.round.opening import opening_lines

    rows = rows_of(look.cellar, look.findings)
    first = matching(rows, "", False)[:1]
    batch = look.batch(first[0].tag) if first else None
    return Frame(
        now=look.now,
        name=look.settings.name,
        degrees=look.settings.temperature,
        read_only=look.read_only or "",
        is_past=bool(look.source.read_only),
        counts=tuple(tally(look.findings)),
        trouble=look.trouble,
        rows=tuple(rows),
        detail=tuple(opening_lines(look, batch, detail_width(columns))) if batch and columns else (),
    )


def to_json(frame: Frame) -> str:
    """The frame as text."""
    return json.dumps(asdict(frame), default=datetime.isoformat)


def from_json(text: str) -> Frame:
    """The frame of a text made by `to_json`."""
    keys = json.loads(text)
    return Frame(
        **keys
        | {
            "now": datetime.fromisoformat(keys["now"]),
            "counts": tuple((count, word) for count, word in keys["counts"]),
            "rows": tuple(_row(own) for own in keys["rows"]),
            "detail": tuple(tuple((text, role) for text, role in line) for line in keys["detail"]),
        }
    )


def _row(own: Mapping) -> Row:
    row = Row(**own)
    return replace(row, looked=datetime.fromisoformat(own["looked"])) if own["looked"] else row
