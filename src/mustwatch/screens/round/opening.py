"""What the detail pane opens with: where the batch stands, and what was found."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from mustwatch.screens.ink import ROOMY, Line
from mustwatch.screens.round.findings import finding_lines
from mustwatch.screens.round.standing import standing_lines

if TYPE_CHECKING:
    from mustwatch.batches.batch import Batch
    from mustwatch.screens.look import Look


def opening_lines(look: Look, batch: Batch, width: int) -> list[Line]:
    """Standing and findings, which come first; `width` cells wide."""
    return [
        more for name, body in opening_sections(look, batch, width) for more in (*heading_lines(name, width), *body)
    ]


def opening_sections(look: Look, batch: Batch, width: int) -> Iterator[tuple[str, list[Line]]]:
    """(name, lines) of the sections that come first."""
    found = look.found(batch.tag)
    yield "standing", standing_lines(batch, look.verdict(batch), look.settings, look.now, width)
    if found:
        yield "findings", finding_lines(found, look.now, width)


def heading_lines(name: str, width: int) -> list[Line]:
    """The lines that open a section."""
    # In a narrow pane the findings follow at once: their own signs set them off.
    if name == "standing" or (name == "findings" and width < ROOMY):
        return []
    return [(), ((f"{name} {'─' * max(0, width - len(name) - 2)}", "head"),)]
