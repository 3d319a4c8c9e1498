"""The course of a batch as a drawn chart: gravity above, temperature below, what was done along the foot."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.ending import ending_of
from mustwatch.ledger.events import Event
from mustwatch.ledger.settings import Settings
from mustwatch.said.dates import day
from mustwatch.said.figures import degrees, gravity
from mustwatch.screens.ink import Line, wrapped
from mustwatch.screens.plot import Canvas, scaled

LABEL = 9
MARKS = {
    "pitched": ("P", "pitched"), "racked": ("R", "racked"), "added": ("+", "added"), "swirled": ("s", "swirled"),
    "aerated": ("a", "aerated"), "closed": ("c", "closed"), "bottled": ("B", "bottled"),
    "poured_back": ("V", "poured back"), "heated": ("h", "heated"),
    "cap_pushed": ("u", "cap pushed"),
}  # fmt: skip
WEIGHT = "BVPR+chuas"  # where several fall into one cell, the one that changes the course most


DOTTED = "....."
NEAR_SG = 0.003  # levels so near to each other would be one line on any screen


@dataclass(frozen=True, slots=True)
class _Level:
    """A gravity that is drawn as a dotted line, and what it means."""

    sg: float
    words: str


@dataclass(frozen=True, slots=True)
class _Span:
    """The time the chart covers; now: where the present lies between 0 and 1."""

    start: datetime
    end: datetime

    def part(self, at: datetime) -> float:
        return (at - self.start) / (self.end - self.start)


def course_lines(
    batch: Batch, settings: Settings, now: datetime, width: int, height: int, outlook: Any, ascii_only: bool,
    within: int = 0,
) -> list[Line]:  # fmt: skip
    """The chart, `height` rows of gravity and three of temperature; a few words when there is nothing to draw.

    within: lines to fill in all, where that leaves gravity more rows.
    """
    if not batch.readings and len(batch.temperatures) < 2:
        return [(("no readings to draw yet", "dim"),)]
    room = max(10, width - LABEL)
    reach = _span(batch, now, outlook)
    levels = _levels(batch, settings)
    below = _warmth(batch, settings, room, reach, ascii_only) if len(batch.temperatures) >= 2 else []
    # What the signs mean stands under the dates: in a narrow pane words would lie over the readings.
    meant = [level.words for level in levels] if batch.readings else []
    below += _foot(batch.story, reach, room, now, meant)
    if not batch.readings:
        return below
    rows = max(height, within - len(below))
    return _gravity(batch, settings, now, room, rows, outlook, reach, levels, ascii_only) + below


def _levels(batch: Batch, settings: Settings) -> list[_Level]:
    """Where its yeast should have come at least, and below what it reads dry; one line where both are near."""
    if not batch.active or batch.pitched is None:
        return []
    ending = ending_of(batch)
    dry = f"{DOTTED} {gravity(ending.dry_high, settings)} dry: to bottle when steady"
    if ending.least is None:
        return [_Level(ending.dry_high, dry)]
    came = f"{DOTTED} {gravity(ending.least, settings)} least end"
    if abs(ending.least - ending.dry_high) <= NEAR_SG:
        return [_Level(ending.least, f"{came}, dry: to bottle when steady")]
    return [_Level(ending.least, came), _Level(ending.dry_high, dry)]


def _span(batch: Batch, now: datetime, outlook: Any) -> _Span:
    firsts = [batch.readings[0].at] if batch.readings else []
    firsts += [batch.temperatures[0].at] if batch.temperatures else []
    firsts += [batch.pitched.at] if batch.pitched else []
    start = min(firsts)
    lasts = [one[-1].at for one in (batch.readings, batch.temperatures) if one]
    end = now if batch.active else max(lasts)
    end = max(end, start + timedelta(days=1))
    if _course(outlook, now):
        end += min(timedelta(days=60), max(timedelta(days=7), (end - start) * 0.6))
    return _Span(start, end)


def _course(outlook: Any, now: datetime) -> Sequence[Any]:
    return [one for one in getattr(outlook, "course", ()) if one.at >= now]


def _gravity(
    batch: Batch,
    settings: Settings,
    now: datetime,
    room: int,
    height: int,
    outlook: Any,
    reach: _Span,
    levels: Sequence[_Level],
    ascii_only: bool,
) -> list[Line]:
    ahead = [one for one in _course(outlook, now) if one.at <= reach.end]
    values = [reading.sg for reading in batch.good_readings] or [reading.sg for reading in batch.readings]
    values += [value for one in ahead for value in (one.p10, one.p90)]
    values += [level.sg for level in levels[:1]]
    low, high = min(values), max(values)
    slack = max(0.002, (high - low) * 0.06)
    low, high = low - slack, high + slack
    canvas = Canvas(room, height, ascii_only)
    # Where dots of several share a cell, the colour of what was drawn first is kept.
    _draw_readings(canvas, batch, reach, low, high)
    _draw_ahead(canvas, ahead, reach, low, high)
    if batch.active:
        canvas.line((reach.part(now), 0), (reach.part(now), 1), "now", 2)
    for level in levels:
        spot = scaled(level.sg, low, high)
        canvas.line((0, spot), (1, spot), "level", 3)
    return [
        ((_label(number, height, high, low, lambda value: gravity(value, settings)), "dim"), ("|", "dim"), *row)
        for number, row in enumerate(canvas.rows())
    ]


def _draw_readings(canvas: Canvas, batch: Batch, reach: _Span, low: float, high: float) -> None:
    before = None
    for reading in batch.readings:
        spot = reach.part(reading.at), scaled(reading.sg, low, high)
        if reading.doubt is not None:
            canvas.sign(spot[0], min(1.0, max(0.0, spot[1])), "?", "watch")
            continue
        if before is not None:
            canvas.line(before, spot, "course")
        canvas.sign(*spot, "o", "reading")
        before = spot


def _draw_ahead(canvas: Canvas, ahead: Sequence[Any], reach: _Span, low: float, high: float) -> None:
    lowest, middle, highest = (
        [(reach.part(one.at), scaled(getattr(one, name), low, high)) for one in ahead] for name in ("p10", "p50", "p90")
    )
    for start, end in zip(middle, middle[1:], strict=False):
        canvas.line(start, end, "fan")
    canvas.band(lowest, highest, "fan")


def _warmth(batch: Batch, settings: Settings, room: int, reach: _Span, ascii_only: bool) -> list[Line]:
    must = [one for one in batch.temperatures if not one.of_air] or list(batch.temperatures)
    low, high = min(one.celsius for one in must), max(one.celsius for one in must)
    middle, half = (low + high) / 2, max(1.5, (high - low) / 2)
    canvas = Canvas(room, 3, ascii_only)
    spots = [(reach.part(one.at), scaled(one.celsius, middle - half, middle + half)) for one in must]
    for start, end in zip(spots, spots[1:], strict=False):
        canvas.line(start, end, "dim")
    for spot in spots:
        canvas.dot(*spot, "dim")
    return [
        ((_label(number, 3, middle + half, middle - half, lambda value: degrees(round(value), settings)), "dim"),
         ("|", "dim"), *row)
        for number, row in enumerate(canvas.rows())
    ]  # fmt: skip


def _label(number: int, height: int, high: float, low: float, said) -> str:
    # A label at the top, the middle and the foot: more would crowd the narrow pane.
    if number not in (0, height - 1, *((height // 2,) if height >= 5 else ())):
        return " " * (LABEL - 1)
    value = high - (high - low) * (number + 0.5) / height
    return f"{said(value):>{LABEL - 2}} "


def _foot(story: Sequence[Event], reach: _Span, room: int, now: datetime, meant: Sequence[str]) -> list[Line]:
    marks: dict[int, str] = {}
    for event in story:
        sign = MARKS.get(event.kind, ("", ""))[0]
        place = round(reach.part(event.at) * (room - 1))
        if not sign or not 0 <= place < room:
            continue
        if place not in marks or WEIGHT.index(sign) < WEIGHT.index(marks[place]):
            marks[place] = sign
    row = "".join(marks.get(place, " ") for place in range(room))
    used = {sign for sign in marks.values()}
    legend = ", ".join(f"{sign} {word}" for sign, word in MARKS.values() if sign in used)
    lines: list[Line] = [((" " * (LABEL - 1) + "+", "dim"), (row.replace(" ", "-"), "dim"))]
    lines.append(((" " * LABEL + _dates(reach, room, now), "dim"),))
    words = "; ".join(part for part in (legend, *meant) if part)
    margin = " " * LABEL
    return lines + (wrapped(words, LABEL + room, first=margin, rest=margin) if words else [])


def _dates(reach: _Span, room: int, now: datetime) -> str:
    start, end = day(reach.start, now), day(reach.end, now)
    row = start.ljust(room - len(end)) + end
    place = round(reach.part(now) * (room - 1))
    if len(start) + 1 <= place - 1 and place + 3 < room - len(end):
        row = row[: place - 1] + "now" + row[place + 2 :]
    elif reach.end <= now and (now - reach.end) < timedelta(hours=1) and len(start) + 4 < room:
        row = start.ljust(room - 3) + "now"
    return row[:room]
