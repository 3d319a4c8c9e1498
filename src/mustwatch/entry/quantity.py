"""Quantities with a name, as typed: `1.5 kg heather honey`, `12 x 330 ml beer crown-cap`, `jug 5 l`."""

import re
from collections.abc import Sequence
from typing import Any, get_args

from mustwatch.ledger.events import BottleKind, Closure
from mustwatch.ledger.visible import visible
from mustwatch.trade.limits import OutOfRange
from mustwatch.trade.units import NoQuantity, parse_mass_kg, parse_temperature_c, parse_volume_l

LONGEST_AMOUNT = 5  # words: 1 1/2 US fl oz
_STOPS = ",;:"
_LOT = re.compile(r"\s*(\d{1,5})\s*[x×*]\s*(\S.*)", re.IGNORECASE)
_VESSELS = ("jug", "carboy", "demijohn", "bucket", "barrel", "keg", "tank", "crock", "bottle")
_BARE = re.compile(r"\s*-?[\d.,]+\s*")
SMALLEST_ML, LARGEST_ML = 10.0, 60_000.0  # a sample to a large keg; beyond is a slip of the unit
OVERFULL = 1.1  # a 5 l jug may hold a little over 5 l to the brim; more is a slip of the unit
CLOSURES = get_args(Closure)
_CLOSURES_SPELT = {name.replace("-", ""): name for name in CLOSURES}

GREW = 3.0  # a batch may be topped up or blended; three times as much is another one

_CONVERTED = re.compile(
    r"(?<![a-z])(lbs?|pounds?|oz|ounces?|gals?|gallons?|pints?|pts?|quarts?|qts?)(?![a-z])|\d\s*°?F\b", re.IGNORECASE
)
_HOUSEHOLD = re.compile(
    r"(?<![a-z])(tsps?|tbsps?|(tea|table)?spoons?|cups?|pack(et)?s?|sachets?|tablets?|tabs?|pills?|capsules?"
    r"|pinch(es)?|handfuls?)\b",
    re.IGNORECASE,
)
_UNITS = {
    "g", "gram", "grams", "gramme", "grammes", "kg", "kilo", "kilos", "mg", "ml", "cl", "l", "litre", "litres", "liter",
    "liters",
    "oz", "ounce", "ounces", "lb", "lbs", "pound", "pounds", "pint", "pints", "gallon", "gallons", "gal", "ppm", "brix",
    "plato", "points", "degrees",
}  # fmt: skip
_PIECE = re.compile(r"tablets?|tabs?|pills?|capsules?", re.IGNORECASE)
_COUNT = re.compile(
    r"[\d.,/½¼¾]+|an?|one|two|three|four|five|six|half|quarter|of|crushed|couple|few|some", re.IGNORECASE
)


class Unweighed(ValueError):
    """An amount in spoons, cups, packets or tablets, which differ."""

    def __init__(self, text: str) -> None:
        shown = visible(text.strip(), limit=40)
        tablets = any(_PIECE.fullmatch(word) for word in text.split())
        differ = "how many grams is that? Tablets differ" if tablets else "spoons, cups and packets differ"
        super().__init__(f"{shown}: {differ}; weigh it, or leave the amount out")


def typed(*texts: str | None) -> str | None:
    """What was typed, where a unit had to be converted to metric or a vessel brought to its kind; None otherwise."""
    return "; ".join(text for text in texts if text and (_CONVERTED.search(text) or _qualified(text))) or None


def _qualified(text: str) -> bool:
    """Whether it names a vessel by more than its kind: glass carboy, 5 l."""
    words = [word for word in re.findall(r"[^\W\d]+", text.lower())]
    return any(word in _VESSELS for word in words[1:]) and words[0] not in _VESSELS and len(words[0]) > 3


def volume_l(text: str, gallon: str | None) -> float:
    """Litres. Raises ValueError with the question to settle."""
    return round(parse_volume_l(text, gallon), 4)


def mass_g(text: str) -> float:
    """Grams. Raises ValueError."""
    if is_household(text):
        raise Unweighed(text)
    return round(parse_mass_kg(text) * 1000, 4)


def temperature_c(text: str) -> float:
    """Degrees Celsius. Raises ValueError."""
    return round(parse_temperature_c(text), 2)


def is_household(text: str) -> bool:
    """Whether it is an amount in spoons, cups or packets.

    >>> is_household("2 tsp"), is_household("2 g")
    (True, False)
    """
    return bool(_HOUSEHOLD.search(text)) and not all(_PIECE.fullmatch(word) for word in text.split())


def is_measure(word: str) -> bool:
    """Whether a word is a unit or a household measure: a dose may be meant.

    >>> is_measure("spoons"), is_measure("grams"), is_measure("pear")
    (True, True, False)
    """
    return _HOUSEHOLD.fullmatch(word) is not None or word.lower() in _UNITS


def tablets_of(words: Sequence[str]) -> tuple[str, str] | None:
    """(how many, what) of tablets, in any order of the words; None where the words are of no tablets or do not count.

    >>> tablets_of(["2", "campden", "tablets"]), tablets_of(["campden", "tablets"])
    (('2 tablets', 'campden tablets'), None)
    """
    piece = next((word for word in words if _PIECE.fullmatch(word)), None)
    count = [word for word in words if _COUNT.fullmatch(word)]
    name = [word for word in words if word not in count and word != piece]
    counted = " ".join(word for word in count if word.lower() not in ("of", "crushed"))
    return (f"{counted} {piece}", f"{' '.join(name)} {piece}") if piece and name and counted else None


def amount_of(text: str, gallon: str | None) -> dict[str, float]:
    """{"g": mass} or {"l": volume}. Raises NoQuantity where it is neither, ValueError with what would be right.

    >>> amount_of("1 lb", None), amount_of("0.5 l", None)
    ({'g': 453.5924}, {'l': 0.5})
    """
    shown = visible(text.strip(), limit=40)
    if _BARE.fullmatch(text):
        raise NoQuantity(f"{shown}: of what unit? Write {shown} g, kg, lb, oz, ml or l")
    if is_household(text):
        raise Unweighed(text)
    try:
        found = _measured(text, gallon)
    except NoQuantity:
        raise NoQuantity(f"{shown!r} is no amount; write it like 1.5 kg or 3 l") from None
    except OutOfRange as fault:
        raise ValueError(f"{shown}: {fault}") from None
    if not any(found.values()):
        raise ValueError(f"{shown}: nothing at all? Give an amount above 0")
    return found


def _measured(text: str, gallon: str | None) -> dict[str, float]:
    try:
        return {"g": round(parse_mass_kg(text) * 1000, 4)}
    except NoQuantity:
        return {"l": volume_l(text, gallon)}


def amount_at_start(words: Sequence[str], gallon: str | None) -> tuple[int, dict[str, float]]:
    """How many words the amount takes that they begin with, the longest that is one, and the amount as `amount_of`.

    Raises ValueError as that does; NoQuantity only where nothing like an amount stands there.
    """
    faults: list[ValueError] = []
    for count in range(min(LONGEST_AMOUNT, len(words)), 0, -1):
        try:
            return count, amount_of(" ".join(words[:count]).rstrip(_STOPS), gallon)
        except ValueError as fault:
            faults.append(fault)
    raise next(
        (fault for fault in faults if not isinstance(fault, NoQuantity)),
        (*faults, NoQuantity("how much? Write it like 1.5 kg heather"))[0],
    )


def is_amount(words: Sequence[str]) -> bool:
    """Whether the words are an amount with its unit and nothing else, be it one that cannot be taken.

    >>> is_amount(["5", "g"]), is_amount(["0g"]), is_amount(["5"]), is_amount(["5g", "nutrient"])
    (True, True, False, False)
    """
    try:
        amount_of(" ".join(words).rstrip(_STOPS), "us")
    except NoQuantity:
        return False
    except ValueError:
        return True
    return True


def named_amount(text: str, default_name: str, gallon: str | None) -> dict[str, Any]:
    """{"what": name, "kg" or "l": amount} of `AMOUNT [NAME]`. Raises ValueError."""
    words = text.split()
    used, amount = amount_at_start(words, gallon)
    name = words[used + 1 :] if words[used : used + 1] == ["of"] else words[used:]
    if name and name[0][:1].isdigit() and any(is_amount(name[:count]) for count in (1, 2)):
        raise ValueError(f"{visible(text)!r}: two amounts; write it as one, such as 1.5 kg")
    kept = {"kg": round(amount["g"] / 1000, 6)} if "g" in amount else amount
    return {"what": " ".join(name) or default_name, **kept}


def closure_of(words: Sequence[str]) -> tuple[str | None, int]:
    """The closure that words begin with, and how many they are: `airlock`, `solid bung`, `with a swing-top`.

    >>> closure_of(["with", "an", "Airlock"]), closure_of(["swing", "top", "1.042"]), closure_of(["bung"])
    (('airlock', 3), ('swing-top', 2), (None, 0))
    """
    skip = 0
    while skip < len(words) and words[skip].lower() in ("with", "by", "a", "an", "the"):
        skip += 1
    rest = [word.lower() for word in words[skip : skip + 2]]
    for count in (2, 1):
        name = "".join(rest[:count]).replace("-", "").replace("_", "")
        if len(rest) >= count and (found := _CLOSURES_SPELT.get(name)):
            return found, skip + count
    return None, 0


def vessel_of(text: str, gallon: str | None) -> dict[str, Any]:
    """{"kind", "capacity_l"?} of `jug 5 l`, `5 l glass jug` or `jug`. Raises ValueError.

    What it is of is left out of the kind: the rules know a carboy, not every glass carboy.
    """
    bare = re.sub(r"[(),;:](?=\s)|[()]", " ", text)
    name, size = _name_and_size([word for part in bare.split() if (word := part.rstrip(",;:"))])
    kind = next((word for word in reversed(name.split()) if word in _VESSELS), name)
    if not kind or re.search(r"\d", kind):
        raise ValueError(f"{visible(text)!r}: write its kind and size, such as jug 5 l")
    return {"kind": kind} | ({"capacity_l": volume_l(size, gallon)} if size else {})


def _name_and_size(words: list[str]) -> tuple[str, str]:
    """What a vessel is called, and its size as written, before or behind the name; the size may be missing."""
    first = next((place for place, word in enumerate(words) if word[:1].isnumeric() or word[:1] in "-+."), len(words))
    if words and first == 0:
        size, rest = _size_of(words, len(words))
        return " ".join(rest).lower(), size
    return " ".join(words[:first]).lower(), " ".join(words[first:])


def fits(volume: float | None, vessel: dict[str, Any] | None) -> None:
    """Raises ValueError when a volume in litres is far more than its vessel can hold: one of the two is a slip."""
    size = vessel.get("capacity_l") if vessel else None
    if vessel and volume and size and volume > OVERFULL * size:
        raise ValueError(f"{volume:.4g} l do not go into a {visible(vessel['kind'])} of {size:.4g} l; which is right?")


def same_batch(now_l: float | None, was_l: float | None) -> None:
    """Raises ValueError when there is far more of a batch, in litres, than there was: one of the two is a slip."""
    if now_l and was_l and now_l > GREW * was_l:
        raise ValueError(f"{now_l:.4g} l, and the batch was {was_l:.4g} l; which is right?")


def lot_of(text: str, gallon: str | None) -> dict[str, Any]:
    """One lot of `COUNT x SIZE BOTTLE [CLOSURE]`. Raises ValueError naming the bottles and closures."""
    found = _LOT.fullmatch(text)
    kinds, closures = get_args(BottleKind), get_args(Closure)
    if found is None:
        raise ValueError(
            f"lot {visible(text)!r}: write it like '12 x 330ml beer crown-cap'; bottles: {', '.join(kinds)}"
        )
    if int(found[1]) == 0:
        raise ValueError(f"lot {visible(text)!r}: no bottles at all? Write how many there are")
    said = found[2]
    for name in (*kinds, *closures):
        # Crown Cap is crown-cap.
        said = re.sub(rf"(?<![\w-]){name.replace('-', '[- ]')}(?![\w-])", name, said, flags=re.IGNORECASE)
    named = [word.rstrip(",;") for word in said.split()]
    first = next((place for place, word in enumerate(named) if word in kinds or word in closures), len(named))
    size, words = _size_of(named, first)
    lot: dict[str, Any] = {"count": int(found[1]), "size_ml": round(volume_l(size, gallon) * 1000, 2)}
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


def _size_of(named: list[str], first: int) -> tuple[str, list[str]]:
    """The words of a size, such as `12 US fl oz`, and the words behind it."""
    for count in range(first, 0, -1):
        try:
            parse_volume_l(" ".join(named[:count]), "us")
        except ValueError:
            continue
        return " ".join(named[:count]), named[count:]
    return named[0], named[1:]
