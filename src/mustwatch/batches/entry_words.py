"""The words of quick entry: which there are, and what each puts into the pot of a line."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any, get_args

from mustwatch.batches.entry_added import added
from mustwatch.batches.readings import HIGHEST_SG, LOWEST_SG
from mustwatch.batches.settings import Settings
from mustwatch.batches.substance import kind_of
from mustwatch.batches.when import CLOCK
from mustwatch.ledger.events import Closure
from mustwatch.trade.temperature import celsius_from_fahrenheit

DONE = {
    "swirled": "swirled", "stirred": "swirled", "degassed": "swirled", "aerated": "aerated", "shaken": "aerated",
    "pushed": "cap_pushed", "punched": "cap_pushed", "cleaned": "cleaned", "sanitised": "cleaned",
    "sanitized": "cleaned",
}  # fmt: skip
SEEN = {
    "airlock": ("bubbling", "still", "dry", "foamed"),
    "surface": ("clean", "foam", "ring", "rafts", "film", "fuzzy", "coloured"),
    "clarity": ("murky", "hazy", "clear"),
}
SEEN_WORDS = {word: key for key, words in SEEN.items() for word in words}
SAME_WORD = {"colored": "coloured", "krausen": "ring", "mould": "fuzzy", "mold": "fuzzy", "foaming": "foam"}
INSTRUMENTS = ("refractometer", "hydrometer")
LOWEST_BRIX, HIGHEST_BRIX = -5.0, 45.0
CLOSURES = get_args(Closure)
MEASURES = {"ph": "ph", "ta": "ta_g_l", "so2": "free_so2_mg_l"}

_TOKEN = re.compile(r'"([^"]*)"|“([^”]*)”|(\S+)')
_GRAVITY = re.compile(r"([01])[.,](\d{1,4})")
_WHOLE = re.compile(r"(9[5-9]\d|1[01]\d\d)")
_SCALED = re.compile(r"(-?\d{1,2}(?:[.,]\d+)?)\s*(bx|brix|°bx|p|plato|°p)", re.IGNORECASE)
_DEGREES = re.compile(r"(-?\d{1,3}(?:[.,]\d+)?)\s*°?([cf])", re.IGNORECASE)
_MEASURE = re.compile(r"(ph|ta|so2)[=:]?(\d{1,3}(?:[.,]\d+)?)", re.IGNORECASE)
_NUMBER = re.compile(r"-?\d+(?:[.,]\d+)?")


@dataclass(slots=True)
class Pot:
    """What has been gathered from the line so far."""

    gravity: dict[str, Any] = field(default_factory=dict)
    read: dict[str, Any] = field(default_factory=dict)
    seen: dict[str, Any] = field(default_factory=dict)
    done: list[str] = field(default_factory=list)
    added: list[dict[str, Any]] = field(default_factory=list)
    removed: list[str] = field(default_factory=list)
    closure: str | None = None
    notes: list[str] = field(default_factory=list)
    bare_c: list[float] = field(default_factory=list)
    typed: list[str] = field(default_factory=list)
    questions: list[str] = field(default_factory=list)
    when: str = ""
    gallon: str | None = None


def tokens_of(text: str) -> list[tuple[str, bool]]:
    """(word, whether it stood in quotes) of a line."""
    return [
        (found[3], False) if found[3] is not None else (found[1] or found[2] or "", True)
        for found in _TOKEN.finditer(text)
    ]


def is_prose(word: str, words: int, settings: Settings) -> bool:
    """Whether one of so many command-line words is a note: blanks inside, and it is no entry of its own.

    A figure in it, or every word understood, makes it an entry; standing alone, one word that is understood does.
    """
    if not re.search(r"\s", word) or word.startswith("@") or ('"' in word and words == 1):
        return False
    tokens = word.split()
    pairs = zip(tokens, [*tokens[1:], ""], strict=True)
    if any(_figure(token) or _figure(token + nearest) or _tells_closure(token, nearest) for token, nearest in pairs):
        return False
    if words == 1 and any(_known(token) for token in tokens):
        return False
    return bool(gathered(tokens_of(word), settings).questions)


def _tells_closure(token: str, nearest: str) -> bool:
    return token.lower() == "closed" and nearest.lower() in CLOSURES


def _figure(token: str) -> bool:
    shapes = (_GRAVITY, _WHOLE, _SCALED, _DEGREES, _MEASURE)
    return token.startswith(("+", "@")) or any(shape.fullmatch(token) for shape in shapes)


def _known(token: str) -> bool:
    low = token.lower()
    return low in DONE or low in SEEN_WORDS or _figure(token)


def gathered(tokens: Sequence[tuple[str, bool]], settings: Settings) -> Pot:
    """Everything the words of a line say, with the questions they leave open."""
    pot = Pot(gallon=settings.gallon)
    place = 0
    while place < len(tokens):
        token, quoted = tokens[place]
        following = _following(tokens, place)
        if quoted:
            pot.notes.append(token)
            place += 1
        else:
            place += _take(token, following, pot)
    return pot


def _following(tokens: Sequence[tuple[str, bool]], place: int) -> list[str]:
    """The next words up to a quoted one; a name in quotes belongs to the amount just before it."""
    words: list[str] = []
    for word, quoted in tokens[place + 1 : place + 5]:
        name = quoted and tokens[place][0].startswith("+") and len(word.split()) <= 2 and kind_of(word)[0] != "other"
        if quoted and not (name and not words):
            break
        words.append(word)
    return words


def _take(token: str, following: list[str], pot: Pot) -> int:
    """Takes a token into the pot; returns how many tokens were used."""
    low = SAME_WORD.get(token.lower(), token.lower())
    nearest = following[0] if following else ""
    if token.startswith("@"):
        return _take_when(token, nearest, pot)
    if token.startswith("+"):
        return _take_added(token, following, pot)
    if low in DONE:
        pot.done.append(DONE[low])
    elif low in SEEN_WORDS:
        pot.seen[SEEN_WORDS[low]] = low
    elif low in ("must", "air", "sample") and _DEGREES.fullmatch(nearest):
        return 1 + _take_degrees(nearest, low, pot)
    elif low in MEASURES and _NUMBER.fullmatch(nearest):
        pot.read[MEASURES[low]] = _float(nearest)
        return 2
    elif low == "removed":
        return _take_removed(following, pot)
    elif low in INSTRUMENTS:
        pot.gravity["instrument"] = low
    elif low.startswith("by:") and len(low) > 3:
        pot.gravity["instrument"] = token[3:]
    elif low == "closed":
        return _take_closure(nearest, pot)
    elif low.startswith(("smell:", "sign:")) and len(low.split(":", 1)[1]) > 0:
        key = "smell" if low.startswith("smell") else "signs"
        pot.seen.setdefault(key, []).append(token.split(":", 1)[1])
    elif _DEGREES.fullmatch(token):
        _take_degrees(token, "", pot)
    elif found := _MEASURE.fullmatch(token):
        pot.read[MEASURES[found[1].lower()]] = _float(found[2])
    elif _NUMBER.fullmatch(token) and nearest.lower() in ("c", "f", "bx", "brix", "p", "plato"):
        return 1 + _take(token + nearest, [], pot)
    elif not _take_gravity(token, pot):
        pot.questions.append(_question(token))
    return 1


def _take_when(token: str, nearest: str, pot: Pot) -> int:
    pot.when = token
    if CLOCK.fullmatch(nearest) and not CLOCK.fullmatch(token.lstrip("@")) and "T" not in token:
        pot.when = f"{token} {nearest}"
        return 2
    return 1


def _take_degrees(token: str, whose: str, pot: Pot) -> int:
    found = _DEGREES.fullmatch(token)
    assert found is not None
    celsius = _float(found[1])
    if found[2].lower() == "f":
        pot.typed.append(token)
        celsius = round(celsius_from_fahrenheit(celsius), 2)
    if not -10 <= celsius <= 110:
        pot.questions.append(f"{token} is no temperature of a must; expected -10C to 110C")
    elif whose in ("must", "air"):
        pot.read[f"{whose}_c"] = celsius
    elif whose == "sample":
        pot.gravity["sample_c"] = celsius
    else:
        pot.bare_c.append(celsius)
    return 1


def _take_gravity(token: str, pot: Pot) -> bool:
    value: float | None = None
    scale = "sg"
    if found := _GRAVITY.fullmatch(token):
        value = float(f"{found[1]}.{found[2]}")
        if len(found[2]) < 3 and not LOWEST_SG <= value <= HIGHEST_SG:
            # 1.09 is a gravity; 1.42 has lost a digit or is something else.
            return False
    elif found := _WHOLE.fullmatch(token):
        value = int(found[1]) / 1000
    elif found := _SCALED.fullmatch(token):
        value, scale = _float(found[1]), "brix" if "b" in found[2].lower() else "plato"
    if value is None:
        return False
    if "value" in pot.gravity:
        pot.questions.append(
            f"two gravities, {pot.gravity['value']:g} and {token}: which one? Enter them one at a time"
        )
        return True
    if scale == "sg" and not LOWEST_SG - 0.02 <= value <= HIGHEST_SG + 0.02:
        pot.questions.append(f"{token}: no must is at {value:.3f}; expected 0.980 to 1.180, such as 1.042")
        return True
    if scale != "sg" and not LOWEST_BRIX <= value <= HIGHEST_BRIX:
        pot.questions.append(f"{token}: no must is there; expected {LOWEST_BRIX:g} to {HIGHEST_BRIX:g}, such as 10.5Bx")
        return True
    if scale == "sg" and "." not in token:
        pot.typed.append(token)
    pot.gravity |= {"value": value, "scale": scale}
    return True


def _take_closure(nearest: str, pot: Pot) -> int:
    if nearest.lower() in CLOSURES:
        pot.closure = nearest.lower()
        return 2
    pot.questions.append(f"closed with what? One of: {', '.join(CLOSURES)}")
    return 1


def _take_added(token: str, following: list[str], pot: Pot) -> int:
    found = added(token[1:], following, pot.gallon, _known)
    if found.question:
        pot.questions.append(found.question)
    else:
        pot.added.append(found.keys)
    if found.typed:
        pot.typed.append(found.typed)
    return found.used


def _take_removed(following: list[str], pot: Pot) -> int:
    if not following or _known(following[0]):
        pot.questions.append("removed what? Write it like: removed fruit")
        return 1
    pot.removed.append(following[0])
    return 2


def _float(digits: str) -> float:
    return float(digits.replace(",", "."))


def _question(token: str) -> str:
    shown = token[:30]
    if _NUMBER.fullmatch(token):
        number = _float(token)
        if 0.9 < number < 1.9 or 100 <= number < 1900:
            return f"{shown}: a point or a digit may be lost; write a gravity such as 1.042 or 1042"
        if -5 < number <= 45:
            return f"{shown}: which is it? Write {shown}Bx, {shown}P, {shown}C or {shown}F, or a gravity such as 1.042"
        return f"{shown}: a number of what? A gravity is written 1.042, a temperature {shown}C or {shown}F"
    if token.startswith("--"):
        return f"{shown}: here a time is written @yesterday 21:00, a note goes in quotes, and --json is the one option"
    if token.lower() in MEASURES:
        return f"{shown}: how much? Write it like {shown}3.6" if token.lower() == "ph" else f"{shown}: how much?"
    words = [*DONE, *SEEN_WORDS, *INSTRUMENTS, "closed", "removed"]
    near = get_close_matches(token.lower(), words, n=1, cutoff=0.75)
    hint = f"; did you mean {near[0]}" if near else ""
    return f'{shown}: not a word I know here{hint}? A note goes in quotes, "like this"'
