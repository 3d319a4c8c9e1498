"""What the detail pane opens with: where the batch stands, and what was found."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from mustwatch.screens.ink import ROOMY, Line, wrapped
from mustwatch.screens.round.findings import finding_lines
from mustwatch.screens.round.rows import DANGER
from mustwatch.screens.round.standing import standing_lines

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.screens.look import Look


def opening_lines(look: Look, batch: Batch, width: int) -> list[Line]:
    """Standing and findings, which come first; `width` cells wide."""
    return [
        more for name, body in opening_sections(look, batch, width) for more in (*heading_lines(name, width), *body)
    ]


def opening_sections(look: Look, batch: Batch, width: int) -> Iterator[tuple[str, list[Line]]]:
    """(name, lines) of the sections that come first."""
    found = look.found(batch.tag)
    stands = standing_lines(batch, look.verdict(batch), look.settings, look.now, width)
    stands += normal_lines(batch, look.now, width) + trouble_lines(look, batch, width)
    found_lines = finding_lines(found, look.now, width)
    if width < ROOMY and any(finding.severity == DANGER for finding in found):
        # Where not all fits at once, what to do about a danger comes before where the batch stands.
        yield "name", stands[:1]
        yield "findings", found_lines
        yield "standing", stands[1:]
        return
    yield "name", stands
    if found:
        yield "findings", found_lines


def normal_lines(batch: Batch, now: datetime, width: int) -> list[Line]:
    """Names what was seen lately and worries people without need; its pages open by a key."""
    from mustwatch.rules.normal import normal_pages_for

    pages = normal_pages_for(batch, now)
    return wrapped(f"normal, and why: {', '.join(pages)} (e)", width, "dim", rest="  ") if pages else []


def trouble_lines(look: Look, batch: Batch, width: int) -> list[Line]:
    """Names what is wrong with the record of a batch, and the way back."""
    own = [one for one in look.troubles if one.batch == batch.tag]
    return [
        line
        for one in own
        for line in wrapped(
            f"{one.mark} record: {one.says} {one.way_back}", width, "danger" if one.grave else "watch", rest="   "
        )
    ]


def heading_lines(name: str, width: int) -> list[Line]:
    """The lines that open a section."""
    # In a narrow pane the findings follow at once: their own signs set them off.
    if name == "name" or (name == "findings" and width < ROOMY):
        return []
    return [(), ((f"{name} {'─' * max(0, width - len(name) - 2)}", "head"),)]
