"""The words and figures quick entry knows, each as people write them, and the pot in which a line is gathered."""

import re
import unicodedata
from dataclasses import dataclass, field
from typing import Any

from mustwatch.entry.bounds import HIGHEST_SG, LOWEST_SG
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
SAME_WORD = {
    "colored": "coloured", "krausen": "ring", "mould": "fuzzy", "mold": "fuzzy", "foaming": "foam",
    "bubbles": "bubbling", "swirl": "swirled", "stir": "swirled", "degas": "swirled", "aerate": "aerated",
}  # fmt: skip
NEAR = {"cloudy": "murky or hazy", "foamy": "foam"}
INSTRUMENTS = ("refractometer", "hydrometer")
MEASURES = {"ph": "ph", "ta": "ta_g_l", "so2": "free_so2_mg_l"}
WHOSE = ("must", "air", "sample")
MEANINGS = {*DONE, *SEEN_WORDS, *SAME_WORD, *MEASURES, *INSTRUMENTS, *WHOSE, "closed", "removed"}

LOWEST_BRIX, HIGHEST_BRIX = -5.0, 45.0
HIGHEST_PH = 14.0
UNITS_APART = {"c", "f", "°c", "°f", "bx", "brix", "°bx", "°brix", "p", "plato", "°p", "°plato", "sg"}
MEASURE_UNITS = {"ta": ("g/l", "g/litre"), "so2": ("mg/l", "ppm"), "ph": ()}

GRAVITY = re.compile(r"(?:sg[=:]?)?(?:([01])[.,](\d{1,4})|[.,](\d{3,4}))(?:sg)?", re.IGNORECASE)
WHOLE = re.compile(r"(?:sg[=:]?)?(9[5-9]\d|1[01]\d\d)(?:sg)?", re.IGNORECASE)
SCALED = re.compile(r"(-?\d{1,2}(?:[.,]\d+)?)\s*°?(bx|brix|p|plato)", re.IGNORECASE)
DEGREES = re.compile(r"(-?\d{1,3}(?:[.,]\d+)?)\s*°?([cf])", re.IGNORECASE)
MEASURE = re.compile(r"(ph|ta|so2)[=:]?(\d{1,3}(?:[.,]\d+)?)(g/l|mg/l|ppm)?", re.IGNORECASE)
MEASURED = re.compile(r"(\d{1,3}(?:[.,]\d+)?)(g/l|mg/l|ppm)?", re.IGNORECASE)
NUMBER = re.compile(r"-?\d+(?:[.,]\d+)?")


@dataclass(slots=True)
class Pot:
    """What has been gathered from the line so far. unknown: words nobody knows, asked about together."""

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
    unknown: list[str] = field(default_factory=list)
    when: str = ""
    gallon: str | None = None

    def settle(self, place: dict[str, Any], key: str, value: Any, name: str) -> None:
        """Puts a value in its place; another value there already is asked about, never replaced."""
        if place.get(key, value) != value:
            self.questions.append(f"{name} {_said(place[key])} and {_said(value)}: which one?")
        place[key] = value

    def take_degrees(self, token: str, whose: str) -> None:
        """A temperature, to where it belongs."""
        found = DEGREES.fullmatch(token)
        assert found is not None
        celsius = number(found[1])
        if found[2].lower() == "f":
            self.typed.append(token)
            celsius = round(celsius_from_fahrenheit(celsius), 2)
        if not -10 <= celsius <= 110:
            self.questions.append(f"{token} is no temperature of a must; expected -10C to 110C")
        elif whose:
            self.settle(self.gravity if whose == "sample" else self.read, f"{whose}_c", celsius, whose)
        else:
            self.bare_c.append(celsius)

    def take_measure(self, name: str, written: str, unit: str | None) -> None:
        """A pH, an acid or a sulfite reading; asks where it cannot be."""
        value, low = number(written), name.lower()
        if unit and unit.lower() not in MEASURE_UNITS[low]:
            wanted = " or ".join(MEASURE_UNITS[low]) or "a bare figure"
            self.questions.append(f"{name} {written}{unit}: expected {wanted}")
        elif low == "ph" and value > HIGHEST_PH:
            lost = f"; did you mean pH{written[0]}.{written[1:]}?" if written.isdigit() else ""
            self.questions.append(f"{name}{written}: a pH is 0 to 14{lost}")
        else:
            self.settle(self.read, MEASURES[low], value, name)

    def take_gravity(self, token: str) -> bool:
        """Whether a word is a gravity; it is then taken, or asked about."""
        found = gravity_of(token)
        if found is None:
            return False
        if "value" in self.gravity:
            both = f"{self.gravity['value']:g} and {token}"
            self.questions.append(f"two gravities, {both}: which one? Enter them one at a time")
        elif fault := gravity_fault(*found, token):
            self.questions.append(fault)
        else:
            self.typed += [token] if found[1] == "sg" and "." not in token else []
            self.gravity |= {"value": found[0], "scale": found[1]}
        return True


def _said(value: Any) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def plain(word: str) -> str:
    """A word with its figures in plain signs: full-width digits, the degree sign drawn in one with its letter."""
    if word.isascii() or not re.search(r"[\d℃℉]", word):
        return word
    return unicodedata.normalize("NFKC", re.sub(r"(?<=\d)(?=[¼-¾⅐-⅞])", " ", word).replace("º", "°")).replace("⁄", "/")


def is_figure(word: str) -> bool:
    """Whether a word is a figure with its meaning, an addition or a time."""
    shapes = (GRAVITY, WHOLE, SCALED, DEGREES, MEASURE)
    return word.startswith(("+", "@")) or any(shape.fullmatch(plain(word)) for shape in shapes)


def number(digits: str) -> float:
    """The number of plain digits with a decimal point or comma."""
    return float(digits.replace(",", "."))


def number_of(text: str) -> float | None:
    """The number a text is and nothing else, None for any other text.

    >>> number_of("3,7"), number_of("21C")
    (3.7, None)
    """
    bare = plain(text.strip())
    return number(bare) if NUMBER.fullmatch(bare) and bare.isascii() else None


def gravity_fault(value: float, scale: str, written: str) -> str | None:
    """What is to be asked of a gravity no must can have; None where one can."""
    if scale == "sg" and not LOWEST_SG - 0.02 <= value <= HIGHEST_SG + 0.02:
        return f"{written}: no must is at {value:.3f}; expected 0.980 to 1.180, such as 1.042"
    if scale != "sg" and not LOWEST_BRIX <= value <= HIGHEST_BRIX:
        return f"{written}: no must is there; expected {LOWEST_BRIX:g} to {HIGHEST_BRIX:g}, such as 10.5Bx"
    return None


def gravity_of(token: str) -> tuple[float, str] | None:
    """(value, scale) of a word that is a gravity."""
    if found := GRAVITY.fullmatch(token):
        value = float(f"{found[1] or 0}.{found[2] or found[3]}")
        # 1.09 is a gravity; 1.42 has lost a digit or is something else.
        short = len(found[2] or found[3]) < 3 and not LOWEST_SG <= value <= HIGHEST_SG
        return None if short else (value, "sg")
    if found := WHOLE.fullmatch(token):
        return int(found[1]) / 1000, "sg"
    if found := SCALED.fullmatch(token):
        return number(found[1]), "brix" if "b" in found[2].lower() else "plato"
    return None
