"""What the fields of the reading form mean together: events to be saved, the same in words, and what is amiss where."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from mustwatch.cellar.readings import reading_from
from mustwatch.ledger.events import Event, Read

if TYPE_CHECKING:
    from mustwatch.deeds.ground import Ground
    from mustwatch.deeds.quick_entry import Entry

FIELDS = ("gravity", "scale", "sample", "must", "airlock", "surface", "note", "when")
CHOICES = {
    "scale": ("SG", "Bx", "P"),
    "airlock": ("bubbling", "still", "dry", "foamed"),
    "surface": ("clean", "foam", "ring", "rafts", "film", "fuzzy", "coloured"),
}
_BARE = re.compile(r"[+-]?\d+(?:[.,]\d+)?")
_SUFFIXED = re.compile(r"\d\s*(bx|brix|p|plato|sg)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Draft:
    """What the fields mean. With a fault nothing may be saved. faults: field -> one line saying what would be right."""

    events: tuple[Event, ...] = ()
    understood: tuple[str, ...] = ()
    faults: Mapping[str, str] = field(default_factory=dict)
    empty: bool = False


def draft_of(fields: Mapping[str, str], ground: Ground) -> Draft:
    """What these fields mean for a batch. Never raises."""
    given = {name: fields.get(name, "").strip() for name in FIELDS}
    if not any(given[name] for name in FIELDS if name not in ("scale", "when")):
        return Draft(empty=True)
    # Not before something is typed: the grammar's import would hold up the first frame.
    from mustwatch.deeds.quick_entry import parse_entry, parse_words

    def parse(text: str) -> Entry:
        return parse_entry(text, ground)

    faults: dict[str, str] = {}
    words = {
        "gravity": _gravity(given["gravity"], given["scale"], faults),
        "sample": _degrees("sample", given["sample"], ground, faults),
        "must": _degrees("must", given["must"], ground, faults),
        "airlock": given["airlock"],
        "surface": given["surface"],
        "note": _note(given["note"], lambda text: parse_words([text], ground)),
        "when": f"@{given['when'].lstrip('@')}" if given["when"] else "",
    }
    _check_alone(words, parse, ground, faults)
    _check_twice(words, parse, faults)
    entry = parse(" ".join(part for part in words.values() if part))
    if entry.questions and not faults:
        faults["sample" if words["sample"] and not words["gravity"] else "note"] = entry.questions[0]
    return Draft(() if faults else entry.events, _with_correction(entry, ground), faults)


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


def _degrees(name: str, text: str, ground: Ground, faults: dict[str, str]) -> str:
    if not text:
        return ""
    from mustwatch.deeds.readers import scaled

    try:
        text = scaled(text, ground.settings)
    except ValueError as error:
        faults[name] = str(error)
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
    words: Mapping[str, str], parse: Callable[[str], Entry], ground: Ground, faults: dict[str, str]
) -> None:
    for name in ("gravity", "must", "note"):
        if words[name] and name not in faults:
            entry = parse(words[name])
            if entry.questions and not (entry.is_empty and words[name].startswith("@")):
                faults[name] = entry.questions[0]
    if words["when"]:
        from mustwatch.deeds.readers import past

        try:
            past(words["when"], ground)
        except ValueError as error:
            faults["when"] = str(error)


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


def _with_correction(entry: Entry, ground: Ground) -> tuple[str, ...]:
    """The entry in words, with what the batch makes of it: a doubted reading says so before it is saved."""
    said, batch = list(entry.understood), ground.batch
    latest = batch.latest if batch else None
    pitched = batch.pitched.at if batch and batch.pitched else None
    instruments, settings = ground.cellar.instruments, ground.settings
    for event in entry.events:
        reading = reading_from(event, instruments, settings, pitched) if isinstance(event, Read) else None
        if reading is not None and reading.doubt is not None:
            said.append(f"kept, but no judgement will rest on it: {reading.doubt}")
        if reading is not None and reading.doubt is None and latest is not None and reading.at > latest.at:
            said.insert(1, f"{(reading.sg - latest.sg) * 1000:+.0f} points since the last")
    return tuple(said)
