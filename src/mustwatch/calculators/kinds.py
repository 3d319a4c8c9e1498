"""Kinds of input: how each is read from what the user typed, and the metric unit it ends in."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from mustwatch.trade import units
from mustwatch.trade.gravity import sg_from_brix, sg_from_plato

Choices = tuple[str, ...]
PSI_BAR = 0.0689475729


@dataclass(frozen=True, slots=True)
class Kind:
    """How one kind is read, an example of it, and the suffix of its value in JSON."""

    read: Callable[[str, Choices, str], Any]
    example: str
    suffix: str = ""


def _volume(text: str, choices: Choices, unit: str) -> float:
    return _positive(units.parse_volume_l(text, unit or None))


def _room(text: str, choices: Choices, unit: str) -> float:
    return units.parse_volume_l(text, unit or None)


def _mass(text: str, choices: Choices, unit: str) -> float:
    return units.parse_mass_kg(text)


def _temperature(text: str, choices: Choices, unit: str) -> float:
    return units.parse_temperature_c(text)


def gravity(text: str) -> float:
    """Specific gravity 20/20 from SG, Brix or Plato as typed, a pure number.

    Range: as units.parse_gravity. Errors: ValueError saying what would be right.

    >>> round(gravity("20Bx"), 4)
    1.083

    Source: units.parse_gravity and the scales of gravity.py.
    """
    amount, scale = units.parse_gravity(text)
    if scale == "brix":
        return sg_from_brix(amount)
    return sg_from_plato(amount) if scale == "plato" else amount


def _gravity(text: str, choices: Choices, unit: str) -> float:
    return gravity(text)


def _number(text: str, choices: Choices, unit: str) -> float:
    amount, written = units.parse_number(text)
    if not math.isfinite(amount):
        raise ValueError(f"{text!r} is not a number I can use")
    if written and _bare(written) != _bare(unit):
        raise ValueError(f"write a number in {unit or 'no unit'}, got {text!r}")
    return amount


def _bare(unit: str) -> str:
    return "".join(unit.lower().split())


def _alcohol(text: str, choices: Choices, unit: str) -> float:
    amount, written = units.parse_number(text)
    if _bare(written) not in ("", "%", "%vol", "%abv", "abv"):
        raise ValueError(f"write alcohol in % vol, such as 12.5, got {text!r}")
    return amount


def _pressure(text: str, choices: Choices, unit: str) -> float:
    amount, written = units.parse_number(text)
    factor = {"bar": 1.0, "psi": PSI_BAR, "kpa": 0.01, "mpa": 10.0}.get(_bare(written))
    if factor is None:
        raise ValueError(f"write a pressure with its unit, such as 3 bar or 40 psi, got {text!r}")
    return amount * factor


def _choice(text: str, choices: Choices, unit: str) -> str:
    found = [choice for choice in choices if choice == text.lower()] or [
        choice for choice in choices if choice.startswith(text.lower())
    ]
    if len(found) != 1:
        raise ValueError(f"must be one of {', '.join(choices)}, got {text!r}")
    return found[0]


def _flag(text: str, choices: Choices, unit: str) -> bool | None:
    answers = {"yes": True, "y": True, "no": False, "n": False, "unknown": None, "?": None}
    if text.lower() not in answers:
        raise ValueError(f"answer yes, no or unknown, got {text!r}")
    return answers[text.lower()]


def _text(text: str, choices: Choices, unit: str) -> str:
    return text


def _sizes(text: str, choices: Choices, unit: str) -> tuple[tuple[float, int | None], ...]:
    """Bottle sizes in ml, each with how many there are: `750x12, 375`."""
    return tuple(_one_size(word) for word in text.replace(",", " ").split())


def _one_size(word: str) -> tuple[float, int | None]:
    size, cross, count = word.lower().removesuffix("ml").partition("x")
    try:
        return float(size.removesuffix("ml")), _count(count) if cross else None
    except ValueError:
        raise ValueError(f"write bottle sizes in ml, such as 750 or 750x12, got {word!r}") from None


def _count(digits: str) -> int:
    if not (digits.isascii() and digits.isdigit() and len(digits) <= 6):
        raise ValueError(digits)
    return int(digits)


def _positive(value: float) -> float:
    if value <= 0:
        raise ValueError("must be more than nothing")
    return value


KINDS = {
    "volume": Kind(_volume, "5 US gal", "l"),
    "room": Kind(_room, "200 ml", "l"),
    "mass": Kind(_mass, "1.5 kg", "kg"),
    "temperature": Kind(_temperature, "20C", "c"),
    "gravity": Kind(_gravity, "1.100", "sg"),
    "alcohol": Kind(_alcohol, "12", "abv"),
    "pressure": Kind(_pressure, "3 bar", "bar"),
    "number": Kind(_number, "10"),
    "choice": Kind(_choice, ""),
    "flag": Kind(_flag, "yes"),
    "text": Kind(_text, "1.050"),
    "parts": Kind(_text, "honey 1.5 kg, raspberry 500 g"),
    "sizes": Kind(_sizes, "750x12, 375", "ml"),
}

_SUFFIXES = {
    "mg/L": "mg_per_l",
    "g/L": "g_per_l",
    "mg/g": "mg_per_g",
    "%": "pct",
    "volumes": "volumes",
    "points": "points",
    "points a day": "points_per_day",
    "Brix": "brix",
}


def key_of(name: str, kind: str, unit: str = "") -> str:
    """The key of an input in JSON, its name with the metric unit it is held in.

    Range: kinds of KINDS. Errors: KeyError for another. Source: the command-line contract.

    >>> key_of("volume", "volume"), key_of("free", "number", "mg/L")
    ('volume_l', 'free_mg_per_l')
    """
    suffix = KINDS[kind].suffix or _SUFFIXES.get(unit, "")
    return f"{name}_{suffix}" if suffix and suffix != name else name
