"""Quantities as people write them, turned into metric; what is unclear is asked, never guessed."""

import re
import unicodedata

from .limits import within
from .temperature import celsius_from_fahrenheit

US_GALLON_L = 3.785411784
IMPERIAL_GALLON_L = 4.54609
POUND_KG = 0.45359237
LONGEST = 60

_NUMBER = re.compile(r"\s*([+-]?(?:\d[\d,.\s]*\d|\d|[.,]\d+))(.*)", re.DOTALL)
_FRACTION = re.compile(r"\s*(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)(.*)", re.DOTALL)
_SIGN_OF_FRACTION = re.compile(r"(?<=\d)(?=[¼-¾⅐-⅞])")
_GROUPED = re.compile(r"[+-]?\d{1,3}(?:,\d{3})+")

_VOLUMES = {
    "l": 1.0, "lt": 1.0, "ltr": 1.0, "liter": 1.0, "liters": 1.0, "litre": 1.0, "litres": 1.0,
    "dl": 0.1, "cl": 0.01, "ml": 0.001, "millilitre": 0.001, "millilitres": 0.001,
    "milliliter": 0.001, "milliliters": 0.001, "hl": 100.0,
}  # fmt: skip
_GALLON_PARTS = {
    "gal": 1.0, "gals": 1.0, "gallon": 1.0, "gallons": 1.0,
    "qt": 0.25, "qts": 0.25, "quart": 0.25, "quarts": 0.25,
    "pt": 0.125, "pts": 0.125, "pint": 0.125, "pints": 0.125,
}  # fmt: skip
_OUNCE_L = {"us": US_GALLON_L / 128, "imperial": IMPERIAL_GALLON_L / 160}
_GALLONS = {"us": US_GALLON_L, "imperial": IMPERIAL_GALLON_L}
_GALLON_WORDS = {
    "us": "us", "u.s.": "us", "american": "us",
    "imperial": "imperial", "imp": "imperial", "imp.": "imperial", "uk": "imperial", "british": "imperial",
}  # fmt: skip
_MASSES = {
    "kg": 1.0, "kgs": 1.0, "kilo": 1.0, "kilos": 1.0, "kilogram": 1.0, "kilograms": 1.0,
    "g": 0.001, "gr": 0.001, "gram": 0.001, "grams": 0.001, "mg": 1e-6,
    "lb": POUND_KG, "lbs": POUND_KG, "pound": POUND_KG, "pounds": POUND_KG,
    "oz": POUND_KG / 16, "ounce": POUND_KG / 16, "ounces": POUND_KG / 16,
}  # fmt: skip


class NoQuantity(ValueError):
    """Text that is no such quantity: no number stands in it, or no unit of its kind."""


class WhichUnit(ValueError):
    """A quantity whose unit has two meanings; its text asks which."""


def parse_number(text: str) -> tuple[float, str]:
    """The number a text begins with, in the unit that follows it, and that unit as written.

    Range: 1.5, 1,5 and 1,500.5 are read; 1,042 is left to the caller's question. Errors:
    ValueError when there is no number, or a comma that could mean either thing.

    >>> parse_number("2 1/2 lb")
    (2.5, 'lb')
    >>> parse_number("4,5 l")
    (4.5, 'l')

    Source: decimal comma and point as both are in use.
    """
    if len(text) > LONGEST:
        raise ValueError(f"a quantity has at most {LONGEST} characters, got {len(text)}")
    if not text.isascii():
        # 4½ is 4 1/2; a full-width 4, a degree sign in one with its letter and the sign for litre are plain ones.
        text = unicodedata.normalize("NFKC", _SIGN_OF_FRACTION.sub(" ", text).replace("º", "°")).replace("⁄", "/")
    fraction = _FRACTION.fullmatch(text)
    if fraction:
        whole, top, bottom, unit = fraction.groups()
        if int(bottom) == 0:
            raise ValueError(f"a fraction cannot have 0 below the line: {text.strip()!r}")
        return int(whole or 0) + int(top) / int(bottom), unit.strip()
    found = _NUMBER.fullmatch(text)
    if not found:
        raise NoQuantity(f"expected a number and a unit, such as 1.5 kg, got {text.strip()!r}")
    return _plain_number(found[1]), found[2].strip()


def _plain_number(digits: str) -> float:
    """A float from digits with a decimal point or a decimal comma, but never a guess."""
    compact = "".join(digits.split())
    if _GROUPED.fullmatch(compact):
        either = compact.replace(",", ""), compact.replace(",", ".")
        raise ValueError(f"{compact} is unclear: write {either[0]} or {either[1]}")
    if "," in compact and "." not in compact:
        compact = compact.replace(",", ".")
    elif _GROUPED.fullmatch(compact.split(".")[0]):
        compact = compact.replace(",", "")
    try:
        return float(compact)
    except ValueError:
        raise ValueError(f"{digits.strip()} is not a number; write it like 1.5") from None


def parse_volume_l(text: str, gallon: str | None = None) -> float:
    """A volume in litres from what the user wrote, such as 4.5 l, 750 ml or 5 US gal.

    Range: 0 to 100 000 L. A bare gallon, quart, pint or fluid ounce is asked about unless gallon
    says 'us' or 'imperial'. Errors: ValueError saying what is wrong and what would be right.

    >>> parse_volume_l("5 US gal")
    18.927
    >>> parse_volume_l("1 gal", gallon="imperial")
    4.546

    Source: NIST SP 811 (US gallon 3.785411784 L); UK Weights and Measures Act (4.54609 L).
    """
    amount, unit = parse_number(text)
    words = unit.lower().replace("(", " ").replace(")", " ").split()
    named = next((_GALLON_WORDS[word] for word in words if word in _GALLON_WORDS), None)
    bare = " ".join(word for word in words if word not in _GALLON_WORDS).rstrip(".")
    volume_l = amount * _volume_unit_l(bare, named or gallon, text.strip())
    return within("volume", volume_l, 0, 100_000, "L")


def _volume_unit_l(unit: str, gallon: str | None, text: str) -> float:
    if unit in _VOLUMES:
        return _VOLUMES[unit]
    ounce = unit in ("fl oz", "floz", "fluid ounce", "fluid ounces")
    if unit not in _GALLON_PARTS and not ounce:
        raise NoQuantity(f"{text!r} has no unit of volume I know: write l, ml, US gal or imperial gal")
    if gallon is None:
        apart = "4 %" if ounce else "a fifth"
        raise WhichUnit(f"{text!r}: US {unit} or imperial {unit}? Write which, they differ by {apart}")
    if gallon not in _GALLONS:
        raise ValueError(f"gallon must be 'us' or 'imperial', got {gallon!r}")
    return _OUNCE_L[gallon] if ounce else _GALLON_PARTS[unit] * _GALLONS[gallon]


def parse_mass_kg(text: str) -> float:
    """A mass in kilograms from what the user wrote, such as 1.5 kg, 3 lb or 3 lb 4 oz.

    Range: 0 to 100 000 kg. Errors: ValueError saying what is wrong and what would be right.

    >>> parse_mass_kg("3 lb")
    1.3608
    >>> parse_mass_kg("3 lb 4 oz")
    1.4742

    Source: international avoirdupois pound, 0.45359237 kg exactly.
    """
    amount, unit = parse_number(text)
    name, extra = unit.lower(), 0.0
    pounds = re.fullmatch(r"(lbs?|pounds?)\.?,?\s*(\d.*)", name)
    if pounds:
        name, extra = pounds[1], parse_mass_kg(pounds[2])
    name = name.rstrip(".")
    if name not in _MASSES:
        raise NoQuantity(f"{text.strip()!r} has no unit of mass I know: write kg, g, lb or oz")
    return within("mass", amount * _MASSES[name] + extra, 0, 100_000, "kg")


def parse_temperature_c(text: str) -> float:
    """A temperature in °C from what the user wrote, such as 21C, 70F or 21 °C.

    Range: -30 to 150 °C. A bare number is asked about. Errors: ValueError saying what is wrong.

    >>> parse_temperature_c("70F")
    21.11

    Source: definition of the scales.
    """
    amount, unit = parse_number(text)
    name = unit.lower().replace("°", "").replace("º", "").replace("deg", "").strip()
    if name in ("c", "celsius"):
        temp_c = amount
    elif name in ("f", "fahrenheit"):
        temp_c = celsius_from_fahrenheit(amount)
    elif not name:
        raise WhichUnit(f"{text.strip()!r}: which scale? Write {amount:g}C or {amount:g}F")
    else:
        raise NoQuantity(f"{text.strip()!r} is not a temperature: write 21C or 70F")
    return within("temperature", temp_c, -30, 150, "°C")


_SCALES = {
    "bx": "brix", "brix": "brix", "°bx": "brix", "°brix": "brix",
    "p": "plato", "°p": "plato", "plato": "plato", "°plato": "plato",
    "sg": "sg", "": "",
}  # fmt: skip


def parse_gravity(text: str) -> tuple[float, str]:
    """A gravity and its scale ('sg', 'brix' or 'plato'), a pure number or % by mass, as written.

    Range: specific gravity 0.960 to 1.409, also without its point (1042, 1,042, 992); -10 to 79
    Brix or Plato, which must carry Bx or P. A bare 12 is asked about. Errors: ValueError.

    >>> parse_gravity("1,042"), parse_gravity("1042"), parse_gravity("10.5Bx")
    ((1.042, 'sg'), (1.042, 'sg'), (10.5, 'brix'))

    Source: the ways hydrometers are marked and read, common practice.
    """
    stripped = text.strip()
    low = stripped.lower()
    if low.startswith("sg"):
        stripped = stripped[2:].strip()
    comma = re.fullmatch(r"([01]),(\d{1,4})(\s*sg)?", stripped, re.IGNORECASE)
    amount, unit = (float(f"{comma[1]}.{comma[2]}"), "sg") if comma else parse_number(stripped)
    scale = _SCALES.get(unit.lower())
    if scale is None:
        raise ValueError(f"{text.strip()!r} has no scale I know: write 1.042, 10.5Bx or 10.5P")
    if scale in ("brix", "plato"):
        return within("gravity", amount, -10, 79, scale.title()), scale
    return _specific_gravity(amount, text.strip(), named=scale == "sg" or low.startswith("sg")), "sg"


def _specific_gravity(amount: float, text: str, named: bool) -> float:
    if 960 <= amount <= 1409:
        return round(amount / 1000, 6)
    if 0.96 <= amount <= 1.409:
        return amount
    if named:
        raise ValueError(f"specific gravity must be 0.96 to 1.409, got {amount:g}")
    if -10 <= amount <= 79:
        raise ValueError(f"{text!r}: which scale? Write {amount:g}Bx, {amount:g}P or 1.042 for SG")
    raise ValueError(f"{text!r} is no gravity: write 1.042, 1042, 10.5Bx or 10.5P")
