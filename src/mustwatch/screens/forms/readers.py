"""How single fields are read: each gives a metric value, or raises ValueError with what would be right."""

from __future__ import annotations

import re
from collections.abc import Callable

from mustwatch.entry.quantity import temperature_c, volume_l
from mustwatch.ledger.settings import Settings
from mustwatch.trade.units import parse_number

COLDEST_C, WARMEST_C = -2.0, 45.0  # a bare number outside is asked about: no living must is there
_BARE = re.compile(r"[+-]?\d+(?:[.,]\d+)?")


def number(low: float, high: float, unit: str, *also: str, like: float) -> Callable[[str], float]:
    """A reader of numbers from low to high, with or without their unit; `like` is an example of one."""

    def read(text: str) -> float:
        try:
            value, behind = parse_number(text)
        except ValueError:
            raise ValueError(f"{text[:20]} is no number; write it like {like:g}") from None
        if behind.lower() not in ("", unit.lower(), *also):
            raise ValueError(f"{text[:20]} is not in {unit}; write the number alone")
        if not low <= value <= high:
            raise ValueError(f"{text[:20]}: it must be {low:g} to {high:g} {unit}")
        return value

    return read


def degrees(settings: Settings) -> Callable[[str], float]:
    """A reader of temperatures, in °C; a bare number is in the cellar's scale."""

    def read(text: str) -> float:
        if not _BARE.fullmatch(text):
            try:
                return temperature_c(text)
            except ValueError:
                raise ValueError(f"{text[:20]} is no temperature; write 21C or 70F") from None
        celsius = temperature_c(f"{text}{settings.temperature}")
        if not COLDEST_C <= celsius <= WARMEST_C:
            raise ValueError(f"{text}: which scale? Write {text}C or {text}F")
        return celsius

    return read


def some_volume_l(gallon: str | None) -> Callable[[str], float]:
    """A reader of volumes, in litres, of which there must be some."""

    def read(text: str) -> float:
        volume = volume_l(text, gallon)
        if volume <= 0:
            raise ValueError(f"{text[:20]}: it must be more than 0; leave it blank if it is not known")
        return volume

    return read
