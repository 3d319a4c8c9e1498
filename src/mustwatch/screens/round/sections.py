"""The parts of a batch's page in the detail pane: where it stands, what was found, its course and its story."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from mustwatch.rules.normal import normal_pages_for
from mustwatch.screens.ink import ROOMY, Line, wrapped
from mustwatch.screens.round.findings import finding_lines, reason_lines
from mustwatch.screens.round.standing import name_lines, standing_lines

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.screens.look import Look

Section = tuple[str, list[Line]]


def opening_sections(look: Look, batch: Batch, width: int) -> Iterator[Section]:
    """(name, lines) of what comes first, `width` cells wide: what to do, where the batch stands, and why."""
    found = look.found(batch.tag)
    known = look.known_outlook(batch)
    likely = (known.final_sg.p10, known.final_sg.p90) if known and known.final_sg else None
    stands = standing_lines(batch, look.verdict(batch), look.settings, look.now, width, likely, live(look, batch))
    # What was seen lately and worries people without need; its pages open by a key.
    if normal := normal_pages_for(batch, look.now):
        stands += wrapped(f"normal, and why: {', '.join(normal)} (e)", width, rest="  ")
    yield "name", [*name_lines(batch, width), *trouble_lines(look, batch, width)]
    if found:
        yield "to do", finding_lines(found, look.now, width)
    yield "facts", stands
    if reasons := reason_lines(found, look.now, width):
        yield "why", reasons


def live(look: Look, batch: Batch) -> str:
    """What the probes of a batch show now, in words."""
    if not (values := look.live()):
        return ""
    from mustwatch.said.live import live_words

    return live_words(values, batch, look.settings, look.source.clock_now)


def trouble_lines(look: Look, batch: Batch, width: int) -> list[Line]:
    """Names what is wrong with the record of a batch, and the way back."""
    lines: list[Line] = []
    for one in look.troubles:
        if one.batch == batch.tag:
            role = "danger" if one.grave else "watch"
            lines += wrapped(f"{one.mark} record: {one.says} {one.way_back}", width, role, rest="   ")
    return lines


def course_section(look: Look, batch: Batch, width: int, height: int, ascii_only: bool, within: int = 0) -> Section:
    """The drawn course. height: rows of the drawn gravity, at least; within: lines to fill in all."""
    # Not needed for the first frame.
    from mustwatch.screens.round.course import course_lines

    outlook = look.known_outlook(batch) if batch.active else None
    return "course", course_lines(batch, look.settings, look.now, width, height, outlook, ascii_only, within)


def further_sections(look: Look, batch: Batch, width: int) -> Iterator[Section]:
    """(name, lines) of what follows."""
    from mustwatch.said.outlook import foreseen
    from mustwatch.screens.round.story import story_lines

    outlook = look.known_outlook(batch) if batch.active else None
    if outlook and (words := foreseen(outlook, look.settings)):
        yield "outlook", [line for text in words for line in wrapped(text, width, rest="  ")]
    yield "story", story_lines(batch, look.settings, look.now, width)


def heading_lines(name: str, width: int) -> list[Line]:
    """The lines that open a section."""
    # A narrow pane has no lines to give away: the signs of findings and the words of facts set them off.
    if name in ("name", "to do") or (name in ("facts", "why") and width < ROOMY):
        return []
    return [(), ((f"{name} {'─' * max(0, width - len(name) - 2)}", "head"),)]
