"""The page of what falls due: today, this week, later, over all batches."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from mustwatch.rules.due import DAYS, behind, parts_of
from mustwatch.said.dates import day
from mustwatch.screens.ink import Line, wrapped
from mustwatch.screens.paper import Paper

if TYPE_CHECKING:
    from mustwatch.rules.due import Due
    from mustwatch.screens.look import Look


def ahead_lines(found: Sequence[Due], now: datetime, width: int) -> list[Line]:
    """What falls due as lines at most `width` cells wide."""
    if not found:
        return wrapped(f"nothing falls due before {day(now + timedelta(days=DAYS + 1), now)}", width)
    lines: list[Line] = []
    for head, part in parts_of(found, now):
        lines += [(), *wrapped(head, width, "head")] if lines else wrapped(head, width, "head")
        for one in part:
            when = "" if head == "today" else f"{day(one.on, now)}  "
            role = one.severity.word if head == "today" and one.severity.word != "note" else ""
            text = f"{when}{one.batch}: {one.what} ({behind(one)})"
            lines += wrapped(text, width, role, first=f"{one.severity.mark} ", rest="     ")
    return lines


def ahead_page(look: Look) -> Paper:
    """The page, as a screen; reckoned once, for the cellar as it was looked at."""
    from mustwatch.rules.due import due, living

    found = due(living(look.cellar), look.findings, DAYS)
    return Paper(lambda width: ahead_lines(found, look.now, width))
