"""One event of a story in a short line: the only place where events become words, for screens and commands alike."""

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Any

from mustwatch.cellar.batch import Reading
from mustwatch.cellar.readings import NOT_CORRECTED
from mustwatch.ledger.events import VENTED_CLOSURES, Bottled, Event, Lot, Vessel
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import counted
from mustwatch.said.dates import day, moment
from mustwatch.said.figures import CELSIUS, degrees, grams, gravity, litres, observed

COMMON = {"v", "id", "seq", "at", "batch", "kind", "note", "crc", "typed"}
Teller = Callable[[Any, Settings, datetime], str]


def told(
    event: Event, settings: Settings = CELSIUS, now: datetime | None = None, reading: Reading | None = None
) -> str:
    """What happened, without its time and note. Holds what users wrote, not yet made visible().

    now: dates are said as seen from it, else as seen when it happened; reading: a reading as corrected.
    """
    if event.kind == "read":
        return _read(event, settings, reading)
    return _TELLERS.get(event.kind, _unknown)(event, settings, now or event.at)


def told_with_note(
    event: Event, settings: Settings = CELSIUS, now: datetime | None = None, reading: Reading | None = None
) -> str:
    """What happened, with the note in quotes."""
    line = told(event, settings, now, reading)
    if not event.note:
        return line
    return f'"{event.note}"' if event.kind == "noted" else f'{line}  "{event.note}"'


def reading_words(reading: Reading, settings: Settings = CELSIUS) -> str:
    """One gravity: as observed, as corrected, and what is assumed or doubtful about it."""
    seen = observed(reading.value, reading.scale)
    said = seen + (f" by {reading.instrument}" if reading.instrument else "")
    is_sg = reading.scale == "sg" and not reading.floating
    if reading.floating:
        said += f" (floating, within {2000 * reading.error:.0f} points)"
    elif reading.sample_c is not None:
        said += f" at {degrees(reading.sample_c, settings)}"
    elif reading.must_c is not None and is_sg:
        said += f" at the must's {degrees(reading.must_c, settings)}"
    if reading.doubt is not None:
        return f"{said}, NOT USED: {reading.doubt}"
    refused = [remark for remark in reading.remarks if remark.startswith(NOT_CORRECTED)]
    corrected = gravity(reading.sg, settings)
    said += f" -> {corrected}" if corrected != seen else ""
    if is_sg and reading.sample_c is None and reading.must_c is None:
        refused.append(f"{NOT_CORRECTED}: no sample temperature")
    return _listed([said, *refused])


def lots_in_words(event: Bottled) -> str:
    """`12 x 750 ml still-wine cork, 3 x 330 ml beer crown-cap`."""
    return _listed(_lot(lot) for lot in event.lots) or "bottles not described"


def closure_words(closure: str) -> str:
    """A closure and whether it lets gas out: `airlock (vented)`, `tight-cap (SEALED)`."""
    return f"{closure} ({'vented' if closure in VENTED_CLOSURES else 'SEALED'})"


def _listed(parts: Iterable[str], between: str = ", ") -> str:
    return between.join(part for part in parts if part)


def _in_brackets(text: str | None) -> str:
    return f" ({text})" if text else ""


def _warm(name: str, celsius: float | None, settings: Settings) -> str:
    return "" if celsius is None else f"{name} {degrees(celsius, settings)}"


def _amount(mass_g: float | None, volume_l: float | None) -> str:
    return f"{grams(mass_g)} " if mass_g is not None else f"{litres(volume_l)} " if volume_l is not None else ""


def _vessel(vessel: Vessel) -> str:
    kind = "" if vessel.kind == "unknown" else vessel.kind
    size = litres(vessel.capacity_l) if vessel.capacity_l else ""
    return _listed([_listed([kind, size], " "), _rating(vessel.rating_bar)])


def _rating(bar: float | None) -> str:
    return "" if bar is None else f"made for {bar:g} bar"


def _mixed(event: Any, settings: Settings, now: datetime) -> str:
    volume = f" {litres(event.volume_l)}" if event.volume_l else ""
    parts = [f"{_amount(part.kg and part.kg * 1000, part.l)}{part.what}" for part in event.ingredients]
    aim = event.target
    figures = [gravity(sg, settings) for sg in (aim.sg, aim.final_sg) if sg is not None] if aim else []
    planned = _listed([" to ".join(figures), (aim and aim.finish) or ""], " ")
    return _listed(
        [
            f"mixed{volume}" + (f": {', '.join(parts)}" if parts else ""),
            _vessel(event.vessel),
            "" if volume else "volume not recorded",
            f"planned {planned}" if planned else "",
            f"from {event.from_batch}" if event.from_batch else "",
        ],
        "; ",
    )


def _pitched(event: Any, settings: Settings, now: datetime) -> str:
    yeast = event.yeast
    kind = yeast.yeast_class if yeast.yeast_class != "unknown" else "class not recorded"
    bounds = [degrees(celsius, settings) for celsius in (yeast.low_c, yeast.high_c) if celsius is not None]
    return _listed(
        [
            f"pitched {yeast.label} ({kind})",
            grams(event.g) if event.g else "",
            _warm("must", event.must_c, settings),
            f"bears {yeast.tolerance_abv:g} % vol" if yeast.tolerance_abv is not None else "",
            f"made for {' to '.join(bounds)}" if bounds else "",
        ]
    )


def _read(event: Any, settings: Settings, reading: Reading | None) -> str:
    seen = event.gravity
    parts, must_c = [], event.must_c
    if reading is not None:
        parts.append(reading_words(reading, settings))
        must_c = must_c if reading.sample_c is not None or reading.scale != "sg" else None
    elif seen is not None:
        by = f" by {seen.instrument}" if seen.instrument else ""
        at = f" at {degrees(seen.sample_c, settings)}" if seen.sample_c is not None else ""
        within = f" (floating, within {2000 * seen.error:.0f} points)" if seen.error else ""
        parts.append(f"{observed(seen.value, seen.scale)}{by}{at}{within}")
    parts += [_warm("must", must_c, settings), _warm("air", event.air_c, settings)]
    for name, figure, unit in (
        ("pH", event.ph, ""), ("acid", event.ta_g_l, " g/L"), ("free SO2", event.free_so2_mg_l, " mg/L")
    ):  # fmt: skip
        parts.append("" if figure is None else f"{name} {figure:g}{unit}")
    if event.probe:
        parts.append(f"by the probe {event.probe}{f', mean of {event.n}' if event.n else ''}")
    place = f" in {event.place}" if event.place else ""
    return f"read {_listed(parts)}{place}".strip()


def _seen(event: Any, settings: Settings, now: datetime) -> str:
    parts = [f"{key} {value}" for key in ("airlock", "surface") if (value := getattr(event, key))]
    smells = [f"smell of {word}" for word in event.smell]
    return _listed(["looked", _listed([*parts, event.clarity or "", *smells, *event.signs])], ": ")


def _added(event: Any, settings: Settings, now: datetime) -> str:
    kind = "" if event.category in event.what.lower() else event.category
    amount = _amount(event.g, event.l)
    return _listed(
        [
            f"added {amount}{event.what}{_in_brackets(kind)}",
            "" if amount else "amount NOT KNOWN",
            "" if event.nitrogen_mg_per_g is None else f"{event.nitrogen_mg_per_g:g} mg nitrogen a gram",
            f"taste by {day(event.taste_by, now)}" if event.taste_by else "",
        ]
    )


def _closed(event: Any, settings: Settings, now: datetime) -> str:
    fit = f"fit: {event.fit}" if event.fit else ""
    return _listed([f"closed with {closure_words(event.closure)}", event.liquid or "", fit])


def _racked(event: Any, settings: Settings, now: datetime) -> str:
    sizes = (("", event.volume_l), ("lees ", event.lees_l), ("headspace ", event.headspace_l))
    vessel = _vessel(event.vessel)
    return _listed(
        [
            f"racked into {vessel}" if vessel else "racked",
            *(f"{name}{litres(volume_l)}" for name, volume_l in sizes if volume_l is not None),
        ]
    )


def _moved(event: Any, settings: Settings, now: datetime) -> str:
    place = event.place or "another place"
    return _listed([f"moved to {place}", event.light or "", _warm("air", event.air_c, settings)])


def _lot(lot: Lot) -> str:
    bottle = lot.bottle if "bottle" in lot.model_fields_set else ""
    closure = lot.closure if lot.closure and lot.closure != bottle else ""
    words = _listed([f"{lot.count} x {round(lot.size_ml)} ml", bottle, closure], " ")
    return _listed([words, "" if lot.closure else "closure not recorded", _rating(lot.rating_bar)])


def _bottled(event: Any, settings: Settings, now: datetime) -> str:
    lots = _listed(_lot(lot) for lot in event.lots)
    priming = f"primed with {grams(event.priming.g)} {event.priming.what}" if event.priming else ""
    return _listed([f"bottled {lots or 'an unknown count'}", event.style or "", priming])


def _took(event: Any, settings: Settings, now: datetime) -> str:
    return _listed([f"took {counted(event.count, 'bottle')} ({event.why})", "BURST" if event.burst else ""])


def _tasted(event: Any, settings: Settings, now: datetime) -> str:
    parts = [f"{key}: {value}" for key in ("look", "nose", "palate", "balance") if (value := getattr(event, key))]
    score = f"{event.score_of_10:g} of 10" if event.score_of_10 is not None else ""
    again = "" if event.again is None else "again" if event.again else "not again"
    return _listed(["tasted", _listed([*parts, score, again], "; ")], " ")


def _hushed(event: Any, settings: Settings, now: datetime) -> str:
    return f"hushed {event.rule} until {moment(event.until, now)}{_in_brackets(event.why)}"


def _amended(event: Any, settings: Settings, now: datetime) -> str:
    changes = _listed(f"{path}={value}" for path, value in event.set.items())
    return f"corrected {event.target}" + (f": {changes}" if changes else "")


def _instrument(event: Any, settings: Settings, now: datetime) -> str:
    return _listed(
        [
            f"instrument {event.name}",
            event.what or "",
            _warm("made for", event.calibration_c, settings),
            f"{event.offset:+.4g} is added" if event.offset else "",
            f"times {event.factor:g}" if event.factor != 1 else "",
            f"marks {event.division:g} apart" if event.division else "",
        ]
    )


def _probed(event: Any, settings: Settings, now: datetime) -> str:
    where = f" in {event.place}" if event.place else ""
    return f"probe {event.probe}{where} is {event.state}{f': it {event.why}' if event.why else ''}"


def _witnessed(event: Any, settings: Settings, now: datetime) -> str:
    seen = [f"{name} up to {count}" for name, count in event.devices.items()]
    known = [f"{name} is known to end at {count}" for name, count in event.accepted.items()]
    return _listed(["saw other devices", *seen, *known])


def _unknown(event: Event, settings: Settings, now: datetime) -> str:
    keys = event.model_dump(mode="json", exclude_unset=True, exclude_none=True)
    own = [f"{key} {value}" for key, value in keys.items() if key not in COMMON]
    return _listed([event.kind.replace("_", " "), ", ".join(own), "(a kind this version does not know)"], " ")


def _done(word: str) -> Teller:
    return lambda event, settings, now: word + _in_brackets(event.how)


_TELLERS: dict[str, Teller] = {
    "mixed": _mixed,
    "pitched": _pitched,
    "seen": _seen,
    "added": _added,
    "removed": lambda event, settings, now: f"took out {event.what}",
    "swirled": _done("swirled"),
    "aerated": _done("aerated"),
    "cap_pushed": _done("pushed the cap under"),
    "cleaned": _done("cleaned"),
    "closed": _closed,
    "racked": _racked,
    "moved": _moved,
    "bottled": _bottled,
    "took": _took,
    "tasted": _tasted,
    "noted": lambda event, settings, now: "note",
    "hushed": _hushed,
    "amended": _amended,
    "withdrew": lambda event, settings, now: f"took back {event.target}{_in_brackets(event.why)}",
    "ended": lambda event, settings, now: f"ended: {event.outcome}",
    "instrument": _instrument,
    "probed": _probed,
    "witnessed": _witnessed,
}
