"""The top line of the round: the cellar, how it stands, and when."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mustwatch.ledger.visible import cells, visible
from mustwatch.said.dates import moment
from mustwatch.screens.ink import Line
from mustwatch.screens.round.rows import tally

if TYPE_CHECKING:
    from mustwatch.screens.look import Look


def top_line(look: Look, width: int) -> Line:
    """The top line in `width` cells. What does not fit whole gives way: year, day, name, then the least counts."""
    name = visible(look.settings.name, limit=24) or "mustwatch"
    trouble = ((f"! {look.ails} ", "danger"),) if look.trouble else ()
    counts = [(f"{count} {word} ", word) for count, word in tally(look.findings)] or [("nothing found ", "")]
    now, is_past = look.now, bool(look.source.read_only)
    held = ", read-only" if is_past else ""
    lead = "" if is_past else "as of "
    a_day, clock = moment(now, now).rsplit(" ", 1)
    whens = [f"{lead}{a_day} {now.year} {clock}{held} ", f"{a_day} {clock}{held} ", f"{held[2:] or clock} "]
    for title in (f" {name}  ", " "):
        for when in whens:
            pieces = ((title, "strong"), *trouble, *counts)
            room = width - sum(cells(text) for text, _ in pieces)
            if cells(when) <= room:
                return (*pieces, (when.rjust(room), ""))
    while len(counts) > 1 and sum(cells(text) for text, _ in (*trouble, *counts)) >= width:
        counts.pop()
    return ((" ", "strong"), *trouble, *counts)
