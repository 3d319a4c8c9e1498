"""The story of a batch: each event as one line of words, newest first."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from itertools import groupby
from typing import Any

from mustwatch.cellar.batch import Batch
from mustwatch.ledger.events import Event, Read
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import visible_lines
from mustwatch.said.dates import day, moment
from mustwatch.said.figures import degrees, gravity, litres
from mustwatch.screens.ink import Line, wrapped

HIDDEN = {"v", "id", "seq", "at", "batch", "kind", "note", "crc", "typed"}


def story_lines(batch: Batch, settings: Settings, now: datetime, width: int) -> list[Line]:
    """The story, newest first; a day of thermometer lines takes one line."""
    readings = {reading.id: reading for reading in batch.readings}
    lines: list[Line] = []
    for quiet, events in groupby(reversed(batch.story), key=_thermometer_day):
        if quiet is not None:
            lines.append(_warm_day(list(events), settings, now))
            continue
        for event in events:
            lines += _told(event, readings.get(event.id), settings, now, width)
    return lines


def _thermometer_day(event: Event) -> date | None:
    if not isinstance(event, Read) or event.gravity is not None or event.ph is not None or event.note:
        return None
    return event.at.date() if event.must_c is not None or event.air_c is not None else None


def _warm_day(events: list[Any], settings: Settings, now: datetime) -> Line:
    values = [value for one in events for value in (one.must_c, one.air_c) if value is not None]
    low, high = (degrees(value, settings) for value in (min(values), max(values)))
    said = low if low == high else f"{low} to {high}"
    count = f" ({len(events)} readings)" if len(events) > 1 else ""
    return ((f"{day(events[0].at, now):<7}", "dim"), (f"       {said}{count}", ""))


def _told(event: Event, reading, settings: Settings, now: datetime, width: int) -> list[Line]:
    said = words_of(event, settings, reading)
    body = wrapped(said, width - 14)
    lines: list[Line] = [((f"{_stamp(event.at, now):<14}", "dim"), *body[0])]
    lines += [((" " * 14, ""), *more) for more in body[1:]]
    for part in visible_lines(event.note or "") if event.note else ():
        lines += [((" " * 14, ""), *more) for more in wrapped(f'"{part}"', width - 14, "note")]
    return lines


def _stamp(at: datetime, now: datetime) -> str:
    # With the year there is no room for the hour.
    said = moment(at, now)
    return said if len(said) <= 13 else day(at, now)


def words_of(event: Event, settings: Settings, reading: Any = None) -> str:
    """What happened, in words, without its note. reading: the corrected reading of a `read` event."""
    teller = _TELLERS.get(event.kind)
    if teller is None:
        return f"{event.kind.replace('_', ' ')} {_rest(event)}".strip()
    return teller(event, settings, reading)


def _read(event: Any, settings: Settings, reading: Any) -> str:
    parts = []
    if event.gravity is not None:
        sign = {"brix": " Bx", "plato": " P"}.get(event.gravity.scale, "")
        value = f"{event.gravity.value:.3f}" if not sign else f"{event.gravity.value:g}{sign}"
        at = f" at {degrees(event.gravity.sample_c, settings)}" if event.gravity.sample_c is not None else ""
        folded = gravity(reading.sg, settings) if reading and reading.doubt is None else value
        corrected = f" -> {folded}" if folded != value else ""
        doubt = f" NOT USED: {reading.doubt}" if reading and reading.doubt else ""
        parts.append(f"read {value}{at}{corrected}{doubt}")
    for name, value in (("must", event.must_c), ("air", event.air_c)):
        if value is not None:
            parts.append(f"{name} {degrees(value, settings)}")
    for name, value in (("pH", event.ph), ("acid g/L", event.ta_g_l), ("free SO2 mg/L", event.free_so2_mg_l)):
        if value is not None:
            parts.append(f"{name} {value:g}")
    return ", ".join(parts) or "read"


def _seen(event: Any, settings: Settings, reading: Any) -> str:
    parts = [f"airlock {event.airlock}"] if event.airlock else []
    parts += [f"surface {event.surface}"] if event.surface else []
    parts += [event.clarity] if event.clarity else []
    parts += [f"smells of {', '.join(event.smell)}"] if event.smell else []
    parts += event.signs
    return "saw " + ", ".join(parts) if parts else "looked"


def _mixed(event: Any, settings: Settings, reading: Any) -> str:
    volume = f" {litres(event.volume_l)}" if event.volume_l else ""
    parts = [f"{_amount(part.kg, part.l)} {part.what}".strip() for part in event.ingredients]
    return f"mixed{volume}" + (f": {', '.join(parts)}" if parts else "")


def _amount(kg: float | None, volume_l: float | None) -> str:
    if kg is not None:
        return f"{kg:g} kg" if kg >= 1 else f"{kg * 1000:g} g"
    return litres(volume_l) if volume_l is not None else ""


def _pitched(event: Any, settings: Settings, reading: Any) -> str:
    grams = f" {event.g:g} g" if event.g else ""
    warm = f" at {degrees(event.must_c, settings)}" if event.must_c is not None else ""
    return f"pitched{grams} {event.yeast.label} ({event.yeast.yeast_class}){warm}"


def _added(event: Any, settings: Settings, reading: Any) -> str:
    amount = f"{event.g:g} g " if event.g is not None else f"{litres(event.l)} " if event.l is not None else ""
    kind = f" ({event.category})" if event.category not in (event.what, "other") else ""
    return f"added {amount}{event.what}{kind}" + ("" if amount else ", amount NOT KNOWN")


def _racked(event: Any, settings: Settings, reading: Any) -> str:
    said = "racked" + (f" into a {event.vessel.kind}" if event.vessel.kind != "unknown" else "")
    said += f", {litres(event.volume_l)}" if event.volume_l is not None else ""
    return said + (f", left {litres(event.lees_l)} of lees" if event.lees_l else "")


def _bottled(event: Any, settings: Settings, reading: Any) -> str:
    lots = [f"{lot.count} x {lot.size_ml:g} ml {lot.bottle}" for lot in event.lots]
    said = "bottled" + (f" {event.style}" if event.style else "")
    priming = f", primed with {event.priming.g:g} g {event.priming.what}" if event.priming else ""
    return said + (": " + ", ".join(lots) if lots else "") + priming


def _closed(event: Any, settings: Settings, reading: Any) -> str:
    return f"closed with {event.closure}" + (f", {event.liquid} in it" if event.liquid else "")


def _tasted(event: Any, settings: Settings, reading: Any) -> str:
    parts = [part for part in (event.look, event.nose, event.palate, event.balance) if part]
    score = f" {event.score_of_10:g} of 10" if event.score_of_10 is not None else ""
    return f"tasted{score}" + (": " + "; ".join(parts) if parts else "")


def _rest(event: Event) -> str:
    keys: Mapping[str, Any] = event.model_dump(mode="json", exclude_unset=True, exclude_none=True)
    return ", ".join(f"{key} {value}" for key, value in keys.items() if key not in HIDDEN)


_TELLERS = {
    "read": _read,
    "seen": _seen,
    "mixed": _mixed,
    "pitched": _pitched,
    "added": _added,
    "racked": _racked,
    "bottled": _bottled,
    "closed": _closed,
    "tasted": _tasted,
    "noted": lambda event, settings, reading: "note",
    "removed": lambda event, settings, reading: f"took out {event.what}",
    "took": lambda event, settings, reading: f"took {event.count} ({event.why}{', burst' if event.burst else ''})",
    "moved": lambda event, settings, reading: f"moved to {event.place or 'a place not named'}",
    "hushed": lambda event, settings, reading: f"hushed {event.rule} until {event.until:%Y-%m-%d %H:%M}",
    "ended": lambda event, settings, reading: f"ended: {event.outcome}",
}
