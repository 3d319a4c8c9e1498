"""The figures of quick entry: gravities, temperatures and measures, each as people write it."""

from __future__ import annotations

import re
import unicodedata

from mustwatch.entry.entry_pot import MEASURES, Pot
from mustwatch.trade.temperature import celsius_from_fahrenheit

LOWEST_BRIX, HIGHEST_BRIX = -5.0, 45.0
LOWEST_SG, HIGHEST_SG = 0.980, 1.180
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


def take_degrees(token: str, whose: str, pot: Pot) -> int:
    """Puts a temperature where it belongs; 1, the words used."""
    found = DEGREES.fullmatch(token)
    assert found is not None
    celsius = number(found[1])
    if found[2].lower() == "f":
        pot.typed.append(token)
        celsius = round(celsius_from_fahrenheit(celsius), 2)
    if not -10 <= celsius <= 110:
        pot.questions.append(f"{token} is no temperature of a must; expected -10C to 110C")
    elif whose in ("must", "air"):
        pot.settle(pot.read, f"{whose}_c", celsius, whose)
    elif whose == "sample":
        pot.settle(pot.gravity, "sample_c", celsius, whose)
    else:
        pot.bare_c.append(celsius)
    return 1


def take_measure(name: str, written: str, unit: str | None, pot: Pot) -> None:
    """Puts a pH, an acid or a sulfite reading into the pot; asks where it cannot be."""
    value, low = number(written), name.lower()
    if unit and unit.lower() not in MEASURE_UNITS[low]:
        wanted = " or ".join(MEASURE_UNITS[low]) or "a bare figure"
        pot.questions.append(f"{name} {written}{unit}: expected {wanted}")
    elif low == "ph" and value > HIGHEST_PH:
        lost = f"; did you mean pH{written[0]}.{written[1:]}?" if written.isdigit() else ""
        pot.questions.append(f"{name}{written}: a pH is 0 to 14{lost}")
    else:
        pot.settle(pot.read, MEASURES[low], value, name)


def number_of(text: str) -> float | None:
    """The number a text is and nothing else, None for any other text.

    >>> number_of("3,7"), number_of("21C")
    (3.7, None)
    """
    bare = plain(text.strip())
    return number(bare) if NUMBER.fullmatch(bare) and bare.isascii() else None


def take_gravity(token: str, pot: Pot) -> bool:
    """Whether a word is a gravity; it is then in the pot, or asked about."""
    found = gravity_of(token)
    if found is None:
        return False
    if "value" in pot.gravity:
        pot.questions.append(
            f"two gravities, {pot.gravity['value']:g} and {token}: which one? Enter them one at a time"
        )
    elif fault := gravity_fault(*found, token):
        pot.questions.append(fault)
    else:
        if found[1] == "sg" and "." not in token:
            pot.typed.append(token)
        pot.gravity |= {"value": found[0], "scale": found[1]}
    return True


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
