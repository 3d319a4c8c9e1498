"""One event of a story in a short line: the only place where events become words, for screens and commands alike."""

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Any

from mustwatch.cellar.batch import Reading
from mustwatch.cellar.readings import NOT_CORRECTED
from mustwatch.ledger.events import VENTED_CLOSURES, Bottled, Event, Lot, PouredLot, Vessel
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import counted
from mustwatch.said.dates import day, moment
from mustwatch.said.figures import CELSIUS, degrees, grams, gravity, listed, litres, observed

COMMON = {"v", "id", "seq", "at", "batch", "kind", "note", "crc", "typed", "harmless"}
SURE = " (asked about, and right)"
Teller = Callable[[Any, Settings, datetime], str]


def told(
    event: Event, settings: Settings = CELSIUS, now: datetime | None = None, reading: Reading | None = None
) -> str:
    """What happened, without its time and note. Holds what users wrote, not yet made visible().

    now: dates are said as seen from it, else as seen when it happened; reading: a reading as corrected.
    """
    if event.kind == "read":
        line = _read(event, settings, reading)
    else:
        line = _TELLERS.get(event.kind, _unknown)(event, settings, now or event.at)
    return f"{line}; {_not_meant(event)}" if event.harmless else line


def _not_meant(event: Event) -> str:
    """What the words of its note were asked about and do not mean."""
    from mustwatch.entry.danger.matcher import TOPICS

    topics = [TOPICS[one].name if one in TOPICS else one for one in event.harmless]
    return f"its note was asked about, and does not mean {listed(topics)}"


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


def _facts(part: Any, settings: Settings, **said: str) -> list[str]:
    """Those of the named keys that were recorded, each as a figure in its words: `lees_l="lees {}"`."""
    values = {key: value for key in said if (value := getattr(part, key)) is not None}
    return [said[key].format(_figure(key, value, settings)) for key, value in values.items()]


def _figure(key: str, value: Any, settings: Settings) -> str:
    if key.endswith("_c"):
        return degrees(value, settings)
    if key in ("l", "volume_l", "lees_l", "headspace_l", "capacity_l"):
        return litres(value)
    return grams(value) if key == "g" else f"{value:g}" if isinstance(value, float) else str(value)


def _vessel(vessel: Vessel, settings: Settings) -> str:
    kind = "" if vessel.kind == "unknown" else vessel.kind
    size = _listed([kind, *_facts(vessel, settings, capacity_l="{}")], " ")
    return _listed([size, *_facts(vessel, settings, rating_bar="made for {} bar")])


def _mixed(event: Any, settings: Settings, now: datetime) -> str:
    parts = _listed(
        _listed([grams(part.kg * 1000) if part.kg else "", *_facts(part, settings, l="{}"), part.what], " ")
        for part in event.ingredients
    )
    aim = event.target
    figures = [gravity(sg, settings) for sg in (aim.sg, aim.final_sg) if sg is not None] if aim else []
    planned = _listed([" to ".join(figures), (aim and aim.finish) or ""], " ")
    head = _listed(["mixed", *_facts(event, settings, volume_l="{}")], " ") + (f": {parts}" if parts else "")
    missing = "" if event.volume_l else "volume not recorded"
    aimed = f"planned {planned}" if planned else ""
    source = _facts(event, settings, from_batch="by the recipe of {}" if event.recipe_only else "from {}")
    whole = _listed([head, _vessel(event.vessel, settings), missing, aimed, *source], "; ")
    return whole + (SURE if event.sure else "")


def _pitched(event: Any, settings: Settings, now: datetime) -> str:
    yeast = event.yeast
    kind = yeast.yeast_class if yeast.yeast_class != "unknown" else "class not recorded"
    facts = _facts(event, settings, g="{}", must_c="must {}")
    facts += _facts(yeast, settings, tolerance_abv="bears {} % vol")
    bounds = " to ".join(_facts(yeast, settings, low_c="{}", high_c="{}"))
    return _listed([f"pitched {yeast.label} ({kind})", *facts, f"made for {bounds}" if bounds else ""])


def _read(event: Any, settings: Settings, reading: Reading | None) -> str:
    seen, must = event.gravity, {"must_c": "must {}"}
    said = ""
    if reading is not None:
        said = reading_words(reading, settings)
        must = must if reading.sample_c is not None or reading.scale != "sg" else {}
    elif seen is not None:
        within = f" (floating, within {2000 * seen.error:.0f} points)" if seen.error else ""
        at = _facts(seen, settings, instrument=" by {}", sample_c=" at {}")
        said = observed(seen.value, seen.scale) + "".join(at) + within
    facts = _facts(
        event, settings, **must, air_c="air {}", ph="pH {}", ta_g_l="acid {} g/L", free_so2_mg_l="free SO2 {} mg/L"
    )
    if event.probe:
        facts.append(f"by the probe {event.probe}{f', mean of {event.n}' if event.n else ''}")
    return _listed(["read", _listed([said, *facts]), *_facts(event, settings, place="in {}")], " ")


def _seen(event: Any, settings: Settings, now: datetime) -> str:
    facts = _facts(event, settings, airlock="airlock {}", surface="surface {}", clarity="{}")
    return _listed(["looked", _listed([*facts, *(f"smell of {word}" for word in event.smell), *event.signs])], ": ")


def _added(event: Any, settings: Settings, now: datetime) -> str:
    amount = _listed(_facts(event, settings, g="{} ", l="{} ")[:1])
    kind = "" if event.category in event.what.lower() else f" ({event.category})"
    facts = _facts(event, settings, nitrogen_mg_per_g="{} mg nitrogen a gram")
    facts += [f"taste by {day(event.taste_by, now)}"] if event.taste_by else []
    return _listed([f"added {amount}{event.what}{kind}", "" if amount else "amount NOT KNOWN", *facts])


def _closed(event: Any, settings: Settings, now: datetime) -> str:
    return _listed(
        [f"closed with {closure_words(event.closure)}", *_facts(event, settings, liquid="{}", fit="fit: {}")]
    )


def _racked(event: Any, settings: Settings, now: datetime) -> str:
    vessel = _vessel(event.vessel, settings)
    sizes = _facts(event, settings, volume_l="{}", lees_l="lees {}", headspace_l="headspace {}")
    return _listed([f"racked into {vessel}" if vessel else "racked", *sizes])


def _moved(event: Any, settings: Settings, now: datetime) -> str:
    return _listed([f"moved to {event.place or 'another place'}", *_facts(event, settings, light="{}", air_c="air {}")])


def lot_kind(lot: Lot) -> str:
    """What a lot is filled in: `750 ml still-wine cork`."""
    bottle = lot.bottle if "bottle" in lot.model_fields_set else ""
    closure = lot.closure if lot.closure and lot.closure != bottle else ""
    words = _listed([f"{round(lot.size_ml)} ml", bottle, closure], " ")
    missing = "" if lot.closure else "closure not recorded"
    return _listed([words, missing, *_facts(lot, CELSIUS, rating_bar="made for {} bar")])


def _lot(lot: Lot) -> str:
    return f"{lot.count} x {lot_kind(lot)}{f' (lot {lot.lot})' if lot.lot is not None else ''}"


def _bottled(event: Any, settings: Settings, now: datetime) -> str:
    lots = _listed(_lot(lot) for lot in event.lots) or "an unknown count"
    priming = f"primed with {grams(event.priming.g)} {event.priming.what}" if event.priming else ""
    return _listed([f"bottled {lots}", *_facts(event, settings, style="{}"), priming]) + (SURE if event.sure else "")


def _poured_back(event: Any, settings: Settings, now: datetime) -> str:
    lots = _listed(_poured_lot(lot) for lot in event.lots) or "all bottles"
    vessel = _vessel(event.vessel, settings)
    closed = f"closed with {closure_words(event.closure)}" if event.closure else "closure not recorded"
    return _listed([f"poured back {lots}{f' into {vessel}' if vessel else ''}", closed])


def _poured_lot(lot: PouredLot) -> str:
    count = "all" if lot.count is None else f"{lot.count}"
    bare = "all bottles" if lot.count is None else counted(lot.count, "bottle")
    size = f"{count} x {round(lot.size_ml)} ml" if lot.size_ml else bare
    return f"{size}{f' of lot {lot.lot}' if lot.lot is not None else ''}"


def _heated(event: Any, settings: Settings, now: datetime) -> str:
    lasted = f" for {event.minutes:g} minutes" if event.minutes is not None else ", for how long NOT KNOWN"
    return f"heated the {event.what} to {degrees(event.c, settings)}{lasted}"


def _took(event: Any, settings: Settings, now: datetime) -> str:
    return _listed([f"took {counted(event.count, 'bottle')} ({event.why})", "BURST" if event.burst else ""])


def _tasted(event: Any, settings: Settings, now: datetime) -> str:
    facts = _facts(
        event, settings, look="look: {}", nose="nose: {}", palate="palate: {}", balance="balance: {}",
        score_of_10="{} of 10",
    )  # fmt: skip
    again = "" if event.again is None else "again" if event.again else "not again"
    return _listed(["tasted", _listed([*facts, again], "; ")], " ")


def _amended(event: Any, settings: Settings, now: datetime) -> str:
    changes = _listed(f"{path}={value}" for path, value in event.set.items())
    return _listed([f"corrected {event.target}", changes], ": ")


def _instrument(event: Any, settings: Settings, now: datetime) -> str:
    facts = _facts(event, settings, what="{}", calibration_c="made for {}")
    offset = f"{event.offset:+.4g} is added" if event.offset else ""
    factor = f"times {event.factor:g}" if event.factor != 1 else ""
    return _listed(
        [f"instrument {event.name}", *facts, offset, factor, *_facts(event, settings, division="marks {} apart")]
    )


def _probed(event: Any, settings: Settings, now: datetime) -> str:
    where = _listed(_facts(event, settings, place=" in {}"))
    return f"probe {event.probe}{where} is {event.state}{f': it {event.why}' if event.why else ''}"


def _witnessed(event: Any, settings: Settings, now: datetime) -> str:
    seen = [f"{name} up to {count}" for name, count in event.devices.items()]
    seen += [f"the last of {name} was {last}" for name, last in event.last.items()]
    known = [f"{name} is known to end at {count}" for name, count in event.accepted.items()]
    return _listed(["saw other devices", *seen, *known])


def _unknown(event: Event, settings: Settings, now: datetime) -> str:
    keys = event.model_dump(mode="json", exclude_unset=True, exclude_none=True)
    own = ", ".join(f"{key} {value}" for key, value in keys.items() if key not in COMMON)
    return _listed([event.kind.replace("_", " "), own, "(a kind this version does not know)"], " ")


def _why(event: Any) -> str:
    return f" ({event.why})" if event.why else ""


def _done(words: str) -> Teller:
    return lambda event, settings, now: words + (f" ({event.how})" if event.how else "")


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
    "poured_back": _poured_back,
    "heated": _heated,
    "took": _took,
    "tasted": _tasted,
    "noted": lambda event, settings, now: "note",
    "hushed": lambda event, settings, now: f"hushed {event.rule} until {moment(event.until, now)}{_why(event)}",
    "amended": _amended,
    "withdrew": lambda event, settings, now: f"took back {event.target}{_why(event)}",
    "ended": lambda event, settings, now: f"ended: {event.outcome}{SURE if event.sure else ''}",
    "instrument": _instrument,
    "probed": _probed,
    "witnessed": _witnessed,
}
