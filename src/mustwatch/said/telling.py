"""One event of a story, told in a short line."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from mustwatch.ledger.events import (
    Added,
    Aerated,
    Amended,
    Bottled,
    CapPushed,
    Cleaned,
    Closed,
    Ended,
    Event,
    Hushed,
    Instrument,
    Mixed,
    Moved,
    Noted,
    Pitched,
    Racked,
    Read,
    Removed,
    Seen,
    Swirled,
    Tasted,
    Took,
    Withdrew,
)  # fmt: skip
from mustwatch.ledger.kinds import Lot
from mustwatch.ledger.settings import Settings
from mustwatch.said.figures import CELSIUS, degrees, grams, listed, litres


def told(event: Event, settings: Settings = CELSIUS) -> str:
    """What happened, without time and note. Holds what users wrote, not yet made visible()."""
    if isinstance(event, Read):
        return _read(event, settings)
    tell = _TELLERS.get(type(event))
    return tell(event) if tell else f"{event.kind} (a kind this version does not know)"


def told_with_note(event: Event, settings: Settings = CELSIUS) -> str:
    """What happened, with the note in quotes."""
    line = told(event, settings)
    if not event.note:
        return line
    return f'"{event.note}"' if isinstance(event, Noted) else f'{line}  "{event.note}"'


def _mass(event: Any) -> str:
    if event.g is not None:
        return f"{grams(event.g)} "
    return f"{litres(event.l)} " if event.l is not None else ""


def _mixed(event: Mixed) -> str:
    parts = [f"{f'{grams(part.kg * 1000)} ' if part.kg else f'{litres(part.l)} ' if part.l else ''}{part.what}"
             for part in event.ingredients]  # fmt: skip
    volume = f" {litres(event.volume_l)}" if event.volume_l else ""
    return f"mixed{volume}" + (f": {', '.join(parts)}" if parts else "")


def _pitched(event: Pitched) -> str:
    mass = f", {grams(event.g)}" if event.g else ""
    named = event.yeast.yeast_class if event.yeast.yeast_class != "unknown" else "class not recorded"
    return f"pitched {event.yeast.label} ({named}){mass}"


def _read(event: Read, settings: Settings = CELSIUS) -> str:
    parts = []
    if event.gravity:
        sign = {"sg": "", "brix": " Bx", "plato": " P"}[event.gravity.scale]
        value = event.gravity.value
        parts.append(f"{value:.3f}" if not sign else f"{value:g}{sign}")
        if event.gravity.sample_c is not None:
            parts.append(f"sample {degrees(event.gravity.sample_c, settings)}")
    for name, celsius in (("must", event.must_c), ("air", event.air_c)):
        parts += [f"{name} {degrees(celsius, settings)}"] if celsius is not None else []
    for name, figure, unit in (
        ("pH", event.ph, ""), ("acid", event.ta_g_l, " g/L"), ("free SO2", event.free_so2_mg_l, " mg/L")
    ):  # fmt: skip
        parts += [f"{name} {figure:g}{unit}"] if figure is not None else []
    return "read " + ", ".join(parts)


def _seen(event: Seen) -> str:
    parts = [f"{key} {value}" for key in ("airlock", "surface") if (value := getattr(event, key))]
    parts += [event.clarity] if event.clarity else []
    parts += [f"smell of {word}" for word in event.smell] + list(event.signs)
    return "seen: " + ", ".join(parts)


def _racked(event: Racked) -> str:
    vessel = "" if event.vessel.kind == "unknown" else f" into {event.vessel.kind}"
    size = f" {litres(event.vessel.capacity_l)}" if vessel and event.vessel.capacity_l else ""
    return f"racked{vessel}{size}" + (f", {litres(event.volume_l)}" if event.volume_l else "")


def _lot(lot: Lot) -> str:
    kind = f" {lot.bottle}" if "bottle" in lot.model_fields_set else ""
    closure = f" {lot.closure}" if lot.closure else ", closure not recorded"
    closure = "" if kind and lot.closure == lot.bottle else closure
    return f"{lot.count} x {round(lot.size_ml):d} ml{kind}{closure}"


def _bottled(event: Bottled) -> str:
    lots = ", ".join(_lot(lot) for lot in event.lots)
    priming = f", primed with {grams(event.priming.g)} {event.priming.what}" if event.priming else ""
    return f"bottled {lots or 'an unknown count'}{f', {event.style}' if event.style else ''}{priming}"


def _tasted(event: Tasted) -> str:
    parts = [f"{key}: {value}" for key in ("look", "nose", "palate", "balance") if (value := getattr(event, key))]
    score = [f"{event.score_of_10:g} of 10"] if event.score_of_10 is not None else []
    again = [] if event.again is None else ["again" if event.again else "not again"]
    return "tasted " + "; ".join([*parts, *score, *again])


def _moved(event: Moved) -> str:
    light = f", {event.light}" if event.light else ""
    air = f", air {degrees(event.air_c)}" if event.air_c is not None else ""
    return f"moved to {event.place or 'another place'}{light}{air}"


def _instrument(event: Instrument) -> str:
    parts = [f"instrument {event.name}"] + ([event.what] if event.what else [])
    parts += [f"made for {degrees(event.calibration_c)}"] if event.calibration_c is not None else []
    parts += [f"{event.offset:+.4g} is added"] if event.offset else []
    return ", ".join(parts)


def _done(word: str) -> Callable[[Any], str]:
    return lambda event: f"{word} ({event.how})" if event.how else word


_TELLERS: dict[type, Callable[[Any], str]] = {
    Mixed: _mixed,
    Pitched: _pitched,
    Read: _read,
    Seen: _seen,
    Added: lambda event: f"added {_mass(event) or 'an unknown amount of '}{event.what}",
    Removed: lambda event: f"took out {event.what}",
    Swirled: _done("swirled"),
    Aerated: _done("aerated"),
    CapPushed: _done("cap pushed under"),
    Cleaned: _done("cleaned"),
    Closed: lambda event: f"closed with {event.closure}" + (f", {event.liquid}" if event.liquid else ""),
    Racked: _racked,
    Moved: _moved,
    Bottled: _bottled,
    Took: lambda event: f"took {event.count} ({event.why}){', BURST' if event.burst else ''}",
    Tasted: _tasted,
    Noted: lambda event: "note",
    Hushed: lambda event: f"hushed {event.rule} until {event.until:%d %b %Y}",
    Amended: lambda event: f"corrected {event.target}",
    Withdrew: lambda event: f"took back {event.target}",
    Ended: lambda event: f"ended: {event.outcome}",
    Instrument: _instrument,
}


def lots_in_words(event: Bottled) -> str:
    """`12 still wine bottles of 750 ml and 3 beer bottles of 330 ml`."""
    return listed([_lot_in_words(lot) for lot in event.lots]) or "bottles not described"


def _lot_in_words(lot: Lot) -> str:
    kind = {"still-wine": "still wine ", "swing-top": "swing-top ", "pet": "PET ", "other": ""}.get(
        lot.bottle, f"{lot.bottle} "
    )
    return f"{lot.count} {kind}bottle{'' if lot.count == 1 else 's'} of {lot.size_ml:g} ml"
