"""What the fields of the reading form mean together: events to be saved, the same in words, and what is amiss where."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.readings import reading_from
from mustwatch.entry.when import moment
from mustwatch.ledger.events import Event, Instrument, Read
from mustwatch.ledger.settings import Settings

if TYPE_CHECKING:
    from mustwatch.deeds.quick_entry import Entry

FIELDS = ("gravity", "scale", "sample", "must", "airlock", "surface", "note", "when")
CHOICES = {
    "scale": ("SG", "Bx", "P"),
    "airlock": ("bubbling", "still", "dry", "foamed"),
    "surface": ("clean", "foam", "ring", "rafts", "film", "fuzzy", "coloured"),
}
COLDEST_C, WARMEST_C = -2.0, 45.0  # a bare number outside is asked about: no living must is there
_BARE = re.compile(r"[+-]?\d+(?:[.,]\d+)?")
_SUFFIXED = re.compile(r"\d\s*(bx|brix|p|plato|sg)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Draft:
    """What the fields mean. With a fault nothing may be saved. faults: field -> one line saying what would be right."""

    events: tuple[Event, ...] = ()
    understood: tuple[str, ...] = ()
    faults: Mapping[str, str] = field(default_factory=dict)
    empty: bool = False


def draft_of(
    fields: Mapping[str, str],
    batch: Batch,
    instruments: Mapping[str, Instrument],
    settings: Settings,
    now: datetime,
) -> Draft:
    """What these fields mean for a batch, typed at `now`. Never raises."""
    given = {name: fields.get(name, "").strip() for name in FIELDS}
    if not any(given[name] for name in FIELDS if name not in ("scale", "when")):
        return Draft(empty=True)
    # Not before something is typed: the grammar's import would hold up the first frame.
    from mustwatch.deeds.quick_entry import parse_entry, parse_words

    def parse(text: str) -> Entry:
        return parse_entry(text, batch.tag, now, settings)

    faults: dict[str, str] = {}
    words = {
        "gravity": _gravity(given["gravity"], given["scale"], faults),
        "sample": _degrees("sample", given["sample"], settings, faults),
        "must": _degrees("must", given["must"], settings, faults),
        "airlock": given["airlock"],
        "surface": given["surface"],
        "note": _note(given["note"], lambda text: parse_words([text], batch.tag, now, settings)),
        "when": f"@{given['when'].lstrip('@')}" if given["when"] else "",
    }
    _check_alone(words, parse, now, faults)
    _check_twice(words, parse, faults)
    entry = parse(" ".join(part for part in words.values() if part))
    if entry.questions and not faults:
        faults["sample" if words["sample"] and not words["gravity"] else "note"] = entry.questions[0]
    understood = _with_correction(entry, batch, instruments, settings)
    return Draft(() if faults else entry.events, understood, faults)


def _gravity(text: str, scale: str, faults: dict[str, str]) -> str:
    if not text or not scale:
        return text
    if found := _SUFFIXED.search(text):
        if found[1][0].lower() != scale[0].lower():
            faults["gravity"] = f"{text} names one scale, the scale field says {scale}: which one?"
        return text
    if scale == "SG" or not _BARE.fullmatch(text):
        return text
    number = float(text.replace(",", "."))
    if 0.96 <= number < 1.2 or number > 80:
        faults["gravity"] = f"{text} looks like a specific gravity, the scale field says {scale}: which one?"
    return f"{text}{scale}"


def _degrees(name: str, text: str, settings: Settings, faults: dict[str, str]) -> str:
    if not text:
        return ""
    if _BARE.fullmatch(text):
        celsius = float(text.replace(",", "."))
        if settings.temperature == "F":
            celsius = (celsius - 32) * 5 / 9
        if not COLDEST_C <= celsius <= WARMEST_C:
            faults[name] = f"{text}: which scale? Write {text}C or {text}F"
        text += settings.temperature
    # Only one temperature belongs here; anything else would slip into another place of the entry.
    if not re.fullmatch(r"[+-]?\d+(?:[.,]\d+)?\s*°?[cCfF]", text):
        faults.setdefault(name, f"{text[:20]} is no temperature; write 21C or 70F")
    return f"{name} {text.replace(' ', '')}"


def _note(text: str, parse: Callable[[str], Entry]) -> str:
    """The note line as quick entry: several words of which none is known are a note, whole."""
    if not text or '"' in text:
        return text
    entry = parse(text)
    plain = len(entry.events) == 1 and entry.events[0].kind == "noted" and entry.events[0].note == text
    return f'"{text}"' if plain else text


def _check_alone(
    words: Mapping[str, str], parse: Callable[[str], Entry], now: datetime, faults: dict[str, str]
) -> None:
    for name in ("gravity", "must", "note"):
        if words[name] and name not in faults:
            entry = parse(words[name])
            if entry.questions and not _is_only_when(words[name], entry):
                faults[name] = entry.questions[0]
    if words["when"]:
        try:
            moment(words["when"], now)
        except ValueError as error:
            faults["when"] = str(error).replace("@", "")


def _is_only_when(text: str, entry: Entry) -> bool:
    return text.startswith("@") and len(entry.questions) == 1 and entry.questions[0].startswith("nothing to save")


def _check_twice(words: Mapping[str, str], parse: Callable[[str], Entry], faults: dict[str, str]) -> None:
    """A field and the note line that name the same thing differently are asked about."""
    for event in parse(words["note"]).events if words["note"] else ():
        if event.kind == "seen":
            for name in ("airlock", "surface"):
                said = getattr(event, name)
                if words[name] and said and said != words[name]:
                    faults.setdefault("note", f"the note says {name} {said}, the field says {words[name]}: which one?")
        if isinstance(event, Read) and words["must"] and event.must_c is not None:
            faults.setdefault("note", "a must temperature in the note and in its field: which one?")
        if isinstance(event, Read) and words["gravity"] and event.gravity is not None:
            faults.setdefault("note", "a gravity in the note and in its field: which one?")
    if words["when"] and "@" in re.sub(r'"[^"]*"', "", words["note"]):
        faults.setdefault("when", "a time in the note and in its field: which one?")


def _with_correction(
    entry: Entry, batch: Batch, instruments: Mapping[str, Instrument], settings: Settings
) -> tuple[str, ...]:
    """The entry in words, with what the batch makes of it: a doubted reading says so before it is saved."""
    said = list(entry.understood)
    pitched = batch.pitched.at if batch.pitched else None
    for event in entry.events:
        reading = reading_from(event, instruments, settings, pitched) if isinstance(event, Read) else None
        if reading is not None and reading.doubt is not None:
            said.append(f"kept, but no judgement will rest on it: {reading.doubt}")
        if reading is not None and reading.doubt is None and batch.latest is not None and reading.at > batch.latest.at:
            said.insert(1, f"{(reading.sg - batch.latest.sg) * 1000:+.0f} points since the last")
    return tuple(said)
