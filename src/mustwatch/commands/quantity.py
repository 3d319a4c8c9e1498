"""Quantities with a name, as typed after an option: `1.5 kg heather honey`, `12 x 330 ml beer crown-cap`."""

from __future__ import annotations

import re
from typing import get_args

from mustwatch.commands.context import Refused
from mustwatch.ledger.events import BottleKind, Closure
from mustwatch.ledger.visible import visible
from mustwatch.trade.units import parse_mass_kg, parse_temperature_c, parse_volume_l

_LOT = re.compile(r"\s*(\d{1,5})\s*[x×*]\s*(\S+(?:\s*(?:ml|cl|l|litre)s?)?)\s*(.*)", re.IGNORECASE)


_CONVERTED = re.compile(
    r"\b(lbs?|pounds?|oz|ounces?|gals?|gallons?|pints?|pts?|quarts?|qts?)\b|\d\s*°?F\b", re.IGNORECASE
)


def typed(*texts: str | None) -> str | None:
    """What was typed, where a unit in it had to be converted to metric; None where nothing was."""
    return "; ".join(text for text in texts if text and _CONVERTED.search(text)) or None


def volume_l(text: str, gallon: str | None) -> float:
    """Litres. Raises Refused with the question to settle."""
    try:
        return round(parse_volume_l(text, gallon), 4)
    except ValueError as error:
        raise Refused(visible(str(error))) from None


def mass_g(text: str) -> float:
    """Grams. Raises Refused."""
    try:
        return round(parse_mass_kg(text) * 1000, 4)
    except ValueError as error:
        raise Refused(visible(str(error))) from None


def temperature_c(text: str) -> float:
    """Degrees Celsius. Raises Refused."""
    try:
        return round(parse_temperature_c(text), 2)
    except ValueError as error:
        raise Refused(visible(str(error))) from None


def amount_of(text: str, gallon: str | None) -> dict[str, float]:
    """{"kg": mass} or {"l": volume}. Raises Refused with what would be right."""
    try:
        return {"kg": round(parse_mass_kg(text), 6)}
    except ValueError:
        pass
    try:
        return {"l": round(parse_volume_l(text, gallon), 4)}
    except ValueError as error:
        question = str(error) if "imperial" in str(error) else f"{text!r} is no amount; write it like 1.5 kg or 3 l"
        raise Refused(visible(question)) from None


def named_amount(text: str, default_name: str, gallon: str | None) -> dict:
    """{"what": name, "kg" or "l": amount} of `AMOUNT [NAME]`. Raises Refused."""
    words = text.split()
    refusal: Refused | None = None
    for count in range(min(3, len(words)), 0, -1):
        try:
            amount = amount_of(" ".join(words[:count]), gallon)
        except Refused as refused:
            refusal = refused if refusal is None or "imperial" in str(refused) else refusal
            continue
        return {"what": " ".join(words[count:]) or default_name, **amount}
    raise refusal or Refused(f"{default_name}: how much? Write it like 1.5 kg heather")


def vessel_of(text: str, gallon: str | None) -> dict:
    """{"kind", "capacity_l"?} of `jug 5 l` or `jug`. Raises Refused."""
    kind, _, size = text.strip().partition(" ")
    if not kind or kind[0].isdigit():
        raise Refused(f"vessel {visible(text)!r}: write its kind and size, such as jug 5 l")
    return {"kind": kind.lower()} | ({"capacity_l": volume_l(size, gallon)} if size else {})


def lot_of(text: str, gallon: str | None) -> dict:
    """One lot of `COUNT x SIZE BOTTLE [CLOSURE]`. Raises Refused naming the bottles and closures."""
    found = _LOT.fullmatch(text)
    kinds, closures = get_args(BottleKind), get_args(Closure)
    if found is None:
        raise Refused(f"lot {visible(text)!r}: write it like '12 x 330ml beer crown-cap'; bottles: {', '.join(kinds)}")
    words = found[3].split()
    unknown = [word for word in words if word not in kinds and word not in closures]
    if unknown:
        raise Refused(
            f"{visible(unknown[0])!r} is neither a bottle ({', '.join(kinds)}) nor a closure ({', '.join(closures)})"
        )
    lot: dict = {"count": int(found[1]), "size_ml": round(volume_l(found[2], gallon) * 1000, 2)}
    bottle = next((word for word in words if word in kinds), None)
    closure = next((word for word in reversed(words) if word in closures), None)
    return lot | ({"bottle": bottle} if bottle else {}) | ({"closure": closure} if closure else {})
