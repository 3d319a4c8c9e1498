"""The story of a batch: each event as one line of words, newest first."""

from datetime import date, datetime
from itertools import groupby
from typing import Any

from mustwatch.cellar.batch import Batch
from mustwatch.ledger.events import Event, Read
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import visible_lines
from mustwatch.said.dates import day, moment
from mustwatch.said.figures import degrees
from mustwatch.said.telling import told
from mustwatch.screens.ink import Line, wrapped

STAMP = 14  # cells for the time of an entry


def story_lines(batch: Batch, settings: Settings, now: datetime, width: int) -> list[Line]:
    """The story, newest first; a day of thermometer lines takes one line."""
    readings = {reading.id: reading for reading in batch.readings}
    lines: list[Line] = []
    for quiet, events in groupby(reversed(batch.story), key=_thermometer_day):
        if quiet is not None:
            lines.append(_warm_day(list(events), settings, now))
            continue
        for event in events:
            lines += _entry(event, told(event, settings, now, readings.get(event.id)), now, width)
    return lines


def _thermometer_day(event: Event) -> date | None:
    if not isinstance(event, Read) or event.gravity is not None or event.ph is not None or event.note:
        return None
    return event.at.date() if event.must_c is not None or event.air_c is not None else None


def _warm_day(events: list[Any], settings: Settings, now: datetime) -> Line:
    values = [value for one in events for value in (one.must_c, one.air_c) if value is not None]
    low, high = (degrees(value, settings) for value in (min(values), max(values)))
    count = f" ({len(events)} readings)" if len(events) > 1 else ""
    said = low if low == high else f"{low} to {high}"
    return ((day(events[0].at, now).ljust(STAMP), "dim"), (f"{said}{count}", ""))


def _entry(event: Event, words: str, now: datetime, width: int) -> list[Line]:
    stamp = moment(event.at, now)
    # With the year there is no room for the hour.
    stamp = stamp if len(stamp) < STAMP else day(event.at, now)
    body = wrapped(words, width - STAMP)
    for part in visible_lines(event.note or "") if event.note else ():
        body += wrapped(f'"{part}"', width - STAMP, "note")
    heads = [stamp.ljust(STAMP), *([" " * STAMP] * (len(body) - 1))]
    return [((head, "dim"), *line) for head, line in zip(heads, body, strict=True)]
