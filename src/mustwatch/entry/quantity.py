"""Quantities with a name, as typed: `1.5 kg heather honey`, `12 x 330 ml beer crown-cap`, `jug 5 l`."""

from __future__ import annotations

import re
from typing import get_args

from mustwatch.entry.entry_added import UNCLEAR, household
from mustwatch.ledger.events import BottleKind, Closure
from mustwatch.ledger.visible import visible
from mustwatch.trade.units import parse_mass_kg, parse_temperature_c, parse_volume_l

_LONGEST_AMOUNT = 5  # words: 1 1/2 US fl oz
_LOT = re.compile(r"\s*(\d{1,5})\s*[x×*]\s*(\S.*)", re.IGNORECASE)
_VESSELS = ("jug", "carboy", "demijohn", "bucket", "barrel", "keg", "tank", "crock", "bottle")
_BARE = re.compile(r"\s*-?[\d.,]+\s*")
SMALLEST_ML, LARGEST_ML = 10.0, 60_000.0  # a sample to a large keg; beyond is a slip of the unit
OVERFULL = 1.1  # a 5 l jug may hold a little over 5 l to the brim; more is a slip of the unit

GREW = 3.0  # a batch may be topped up or blended; three times as much is another one

_CONVERTED = re.compile(
    r"\b(lbs?|pounds?|oz|ounces?|gals?|gallons?|pints?|pts?|quarts?|qts?)\b|\d\s*°?F\b", re.IGNORECASE
)


def typed(*texts: str | None) -> str | None:
    """What was typed, where a unit had to be converted to metric or a vessel brought to its kind; None otherwise."""
    return "; ".join(text for text in texts if text and (_CONVERTED.search(text) or _qualified(text))) or None


def _qualified(text: str) -> bool:
    """Whether it names a vessel by more than its kind: glass carboy, 5 l."""
    words = [word for word in re.findall(r"[^\W\d]+", text.lower())]
    return any(word in _VESSELS for word in words[1:]) and words[0] not in _VESSELS and len(words[0]) > 3


def volume_l(text: str, gallon: str | None) -> float:
    """Litres. Raises ValueError with the question to settle."""
    try:
        return round(parse_volume_l(text, gallon), 4)
    except ValueError as error:
        raise ValueError(visible(str(error))) from None


def mass_g(text: str) -> float:
    """Grams. Raises ValueError."""
    if hint := household(text):
        raise ValueError(f"{visible(text.strip(), limit=40)}: {hint}; weigh it, or leave it out")
    try:
        return round(parse_mass_kg(text) * 1000, 4)
    except ValueError as error:
        raise ValueError(visible(str(error))) from None


def temperature_c(text: str) -> float:
    """Degrees Celsius. Raises ValueError."""
    try:
        return round(parse_temperature_c(text), 2)
    except ValueError as error:
        raise ValueError(visible(str(error))) from None


def amount_of(text: str, gallon: str | None) -> dict[str, float]:
    """{"kg": mass} or {"l": volume}. Raises ValueError with what would be right."""
    if _BARE.fullmatch(text):
        raise ValueError(f"{visible(text.strip())}: of what unit? Write {visible(text.strip())} g, kg, lb, oz, ml or l")
    if hint := household(text):
        raise ValueError(f"{visible(text.strip(), limit=40)}: {hint}; weigh it, or leave the amount out")
    shown = visible(text.strip(), limit=40)
    fault = f"{text!r} is no amount; write it like 1.5 kg or 3 l"
    for key, read in (("kg", parse_mass_kg), ("l", lambda written: parse_volume_l(written, gallon))):
        try:
            found = round(read(text), 6 if key == "kg" else 4)
        except ValueError as error:
            said = str(error)
            fault = f"{shown}: {said}" if " must be " in said else said if UNCLEAR.search(said) else fault
            continue
        if found <= 0:
            raise ValueError(f"{shown}: nothing at all? Give an amount above 0")
        return {key: found}
    raise ValueError(visible(fault))


def named_amount(text: str, default_name: str, gallon: str | None) -> dict:
    """{"what": name, "kg" or "l": amount} of `AMOUNT [NAME]`. Raises ValueError."""
    words = text.split()
    refusal: ValueError | None = None
    for count in range(min(_LONGEST_AMOUNT, len(words)), 0, -1):
        try:
            amount = amount_of(" ".join(words[:count]).rstrip(",;:"), gallon)
        except ValueError as refused:
            refusal = refused if refusal is None or UNCLEAR.search(str(refused)) else refusal
            continue
        name = words[count + 1 :] if words[count : count + 1] == ["of"] else words[count:]
        if name and name[0][:1].isdigit() and _is_amount(name):
            raise ValueError(f"{visible(text)!r}: two amounts; write it as one, such as 1.5 kg")
        return {"what": " ".join(name) or default_name, **amount}
    raise refusal or ValueError(f"{default_name}: how much? Write it like 1.5 kg heather")


def vessel_of(text: str, gallon: str | None) -> dict:
    """{"kind", "capacity_l"?} of `jug 5 l`, `5 l glass jug` or `jug`. Raises ValueError.

    What it is of is left out of the kind: the rules know a carboy, not every glass carboy.
    """
    bare = re.sub(r"[(),;:](?=\s)|[()]", " ", text)
    name, size = _name_and_size([word for part in bare.split() if (word := part.rstrip(",;:"))])
    kind = next((word for word in reversed(name.split()) if word in _VESSELS), name)
    if not kind or re.search(r"\d", kind):
        raise ValueError(f"vessel {visible(text)!r}: write its kind and size, such as jug 5 l")
    return {"kind": kind} | ({"capacity_l": volume_l(size, gallon)} if size else {})


def _name_and_size(words: list[str]) -> tuple[str, str]:
    """What a vessel is called, and its size as written, before or behind the name; the size may be missing."""
    first = next((place for place, word in enumerate(words) if word[:1].isnumeric() or word[:1] in "-+."), len(words))
    if words and first == 0:
        size, rest = _size_of(words, len(words))
        return " ".join(rest).lower(), size
    return " ".join(words[:first]).lower(), " ".join(words[first:])


def fits(volume: float | None, vessel: dict | None) -> None:
    """Raises ValueError when a volume in litres is far more than its vessel can hold: one of the two is a slip."""
    size = vessel.get("capacity_l") if vessel else None
    if vessel and volume and size and volume > OVERFULL * size:
        raise ValueError(f"{volume:.4g} l do not go into a {visible(vessel['kind'])} of {size:.4g} l; which is right?")


def same_batch(now_l: float | None, was_l: float | None) -> None:
    """Raises ValueError when there is far more of a batch, in litres, than there was: one of the two is a slip."""
    if now_l and was_l and now_l > GREW * was_l:
        raise ValueError(f"{now_l:.4g} l, and the batch was {was_l:.4g} l; which is right?")


def lot_of(text: str, gallon: str | None) -> dict:
    """One lot of `COUNT x SIZE BOTTLE [CLOSURE]`. Raises ValueError naming the bottles and closures."""
    found = _LOT.fullmatch(text)
    kinds, closures = get_args(BottleKind), get_args(Closure)
    if found is None:
        raise ValueError(
            f"lot {visible(text)!r}: write it like '12 x 330ml beer crown-cap'; bottles: {', '.join(kinds)}"
        )
    if int(found[1]) == 0:
        raise ValueError(f"lot {visible(text)!r}: no bottles at all? Write how many there are")
    named = _joined([word.rstrip(",;") for word in found[2].split()], (*kinds, *closures))
    first = next((place for place, word in enumerate(named) if word in kinds or word in closures), len(named))
    size, words = _size_of(named, first)
    lot: dict = {"count": int(found[1]), "size_ml": round(volume_l(size, gallon) * 1000, 2)}
    if not SMALLEST_ML <= lot["size_ml"] <= LARGEST_ML:
        raise ValueError(
            f"lot {visible(text)!r}: {size} a bottle? Expected {SMALLEST_ML:g} ml to {LARGEST_ML / 1000:g} l"
        )
    unknown = [word for word in words if word not in kinds and word not in closures]
    if unknown:
        raise ValueError(
            f"{visible(unknown[0])!r} is neither a bottle ({', '.join(kinds)}) nor a closure ({', '.join(closures)})"
        )
    bottle = next((word for word in words if word in kinds), None)
    closure = next((word for word in reversed(words) if word in closures), None)
    return lot | ({"bottle": bottle} if bottle else {}) | ({"closure": closure} if closure else {})


def _joined(words: list[str], names: tuple[str, ...]) -> list[str]:
    """The words, with names in small letters and those of two words in one: Crown cap is crown-cap."""
    result: list[str] = []
    place = 0
    while place < len(words):
        pair = "-".join(words[place : place + 2]).lower()
        if len(words) > place + 1 and pair in names:
            result.append(pair)
            place += 2
            continue
        low = words[place].lower()
        result.append(low if low in names else words[place])
        place += 1
    return result


def _is_amount(words: list[str]) -> bool:
    """Whether words begin with a figure and its unit."""
    for count in (2, 1):
        try:
            amount_of(" ".join(words[:count]).rstrip(",;:."), "us")
        except ValueError:
            continue
        return True
    return False


def _size_of(named: list[str], first: int) -> tuple[str, list[str]]:
    """The words of a size, such as `12 US fl oz`, and the words behind it."""
    for count in range(first, 0, -1):
        try:
            parse_volume_l(" ".join(named[:count]), "us")
        except ValueError:
            continue
        return " ".join(named[:count]), named[count:]
    return named[0], named[1:]
