"""The settings of a cellar, from the text of its `cellar.toml`. Every fault is one line that names the key."""

import tomllib
from collections.abc import Callable, Mapping
from datetime import datetime
from math import isfinite
from types import MappingProxyType
from typing import Any, NamedTuple

FIRST_YEAR, LAST_YEAR = 1970, 2199  # beyond them the reckoning of weeks before and after has no dates
MOST_DOTS = 1000  # in a line: the time to read a dotted key grows with the square of its length
CALIBRATIONS_C = {15.0, 15.56, 20.0}
DEFAULT_TEXT = """\
# Settings of this cellar. Everything here is optional; all text after # is explanation.

[cellar]
# name = "Under the stairs"
# gallon = "us"            # or "imperial": settles what a bare "gal" means
# temperature = "C"        # or "F": how temperatures are shown
# gravity = "sg"           # or "brix", "plato": how gravities are shown
# colours = "auto"         # or "dark", "light", "terminal": the screens' colours, by the terminal's background
# hydrometer_c = 20        # the temperature printed inside the glass: 15, 15.56 or 20

# [places.cellar]          # rooms, for the carbon dioxide that collects in them
# m3 = 12

# [thresholds.stalled]     # `mustwatch explain stalled` names its numbers and their bounds
# fall = 1

# [library.ingredients."hill honey"]   # your own, for the bench
# category = "honey"
# water_pct = 18.2

# [library.yeasts.ale]     # what your own yeast bears, by its class or by its label
# tolerance_high_abv = 11

# [feeds.probes.shelf]     # thermometers that report by themselves: `mustwatch listen --help`
# source = "w1"            # or "hwmon", "iio", "mqtt"
# id = "28-0123456789ab"
# batch = "heather-2"      # or place = "cellar"
"""


class Settings(NamedTuple):
    """What a cellar has settled for itself.

    pinned: the cellar always opens as it stood then, and read-only;
    thresholds: rule name -> threshold name -> number; places: room name -> cubic metres;
    library: own yeasts, honeys and fruits, as in the library of the trade; feeds: probes, broker and warnings, as
    written.
    """

    name: str = ""
    gallon: str | None = None
    temperature: str = "C"
    gravity: str = "sg"
    hydrometer_c: float | None = None
    colours: str = "auto"
    pinned: datetime | None = None
    thresholds: Mapping[str, Mapping[str, float]] = MappingProxyType({})
    places: Mapping[str, float] = MappingProxyType({})
    library: Mapping[str, Any] = MappingProxyType({})
    feeds: Mapping[str, Any] = MappingProxyType({})

    def threshold(self, rule: str, name: str, default: float) -> float:
        """The number this cellar has set for a rule, else the default."""
        return self.thresholds.get(rule, {}).get(name, default)


def settled(read: Callable[[], str], check: Callable[[Settings], None]) -> tuple[Settings, str]:
    """The settings that `read` gives the text of, and what is wrong with them in one line: then the defaults count."""
    try:
        settings = settings_from(read())
        check(settings)
        return settings, ""
    except ValueError as fault:
        return Settings(), str(fault)


def settings_from(text: str) -> Settings:
    """The settings of a `cellar.toml`. Raises ValueError with one line naming the key and what would be right."""
    too_deep = "cellar.toml is nested too deeply; no setting needs more than three levels"
    if any(line.count(".") > MOST_DOTS for line in text.splitlines()):
        raise ValueError(too_deep)
    try:
        table = tomllib.loads(text)
    except ValueError as error:
        raise ValueError(f"cellar.toml is not TOML: {error}") from None
    except RecursionError:
        raise ValueError(too_deep) from None
    try:
        return _settings(table)
    except OverflowError:
        raise ValueError("cellar.toml holds a number that is larger than any setting") from None


def _settings(table: Mapping[str, Any]) -> Settings:
    _only(table, {"cellar", "places", "thresholds", "library", "feeds"}, "")
    cellar = _table(table, "cellar")
    _only(cellar, set(_READERS), "cellar.")
    values = {name: _READERS[name](f"cellar.{name}", value) for name, value in cellar.items()}
    return Settings(
        **values,
        thresholds={rule: _numbers(f"thresholds.{rule}", own) for rule, own in _table(table, "thresholds").items()},
        places={place: _place(place, own) for place, own in _table(table, "places").items()},
        library=_library(_table(table, "library")),
        feeds=_table(table, "feeds"),
    )


def _only(table: Mapping[str, Any], known: set[str], where: str) -> None:
    for key in table:
        if key not in known:
            raise ValueError(f"cellar.toml: {where}{key} is not known; known here: {', '.join(sorted(known))}")


def _table(table: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    found = table.get(key, {})
    if not isinstance(found, dict):
        raise ValueError(f"cellar.toml: {key} must be a table, such as [{key}]")
    return found


def _library(table: Mapping[str, Any]) -> Mapping[str, Any]:
    """Own yeasts and ingredients, looked at now so that a slip in them is told before anything rests on them."""
    _only(table, {"yeasts", "ingredients"}, "library.")
    if table:
        from mustwatch.trade.library import ingredients, yeast_classes

        for key, read in (("yeasts", yeast_classes), ("ingredients", ingredients)):
            own = _table(table, key)
            try:
                read({name: _table(own, name) for name in own})
            except ValueError as error:
                raise ValueError(f"cellar.toml: library.{key}: {error}") from None
    return table


def _numbers(where: str, value: Any) -> dict[str, float]:
    if not isinstance(value, dict):
        raise ValueError(f"cellar.toml: {where} must be a table of numbers")
    return {name: _number(f"{where}.{name}", number) for name, number in value.items()}


def _place(name: str, value: Any) -> float:
    size = value.get("m3") if isinstance(value, dict) else None
    cubic_metres = _number(f"places.{name}.m3", size)
    if not 0 < cubic_metres <= 100_000:
        raise ValueError(f"cellar.toml: places.{name}.m3 must be the room's size in cubic metres, above 0")
    return cubic_metres


def _number(where: str, value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"cellar.toml: {where} must be a number")
    if not isfinite(value):
        raise ValueError(f"cellar.toml: {where} must be a plain number")
    return float(value)


def _text(where: str, value: Any) -> str:
    if not isinstance(value, str):
        raise ValueError(f"cellar.toml: {where} must be text in quotes")
    return value


def _one_of(*words: str) -> Callable[[str, Any], str]:
    def read(where: str, value: Any) -> str:
        if value not in words:
            raise ValueError(f"cellar.toml: {where} must be one of {', '.join(words)}")
        return str(value)

    return read


def _calibration(where: str, value: Any) -> float:
    if (number := _number(where, value)) not in CALIBRATIONS_C:
        raise ValueError(f"cellar.toml: {where} must be 15, 15.56 or 20, as printed in the glass")
    return number


def _instant(where: str, value: Any) -> datetime:
    if not isinstance(value, datetime) or value.tzinfo is None or not FIRST_YEAR <= value.year <= LAST_YEAR:
        raise ValueError(f"cellar.toml: {where} must be a time with its offset, such as 2026-05-14T09:00:00Z")
    return value


_READERS: dict[str, Callable[[str, Any], Any]] = {
    "name": _text,
    "gallon": _one_of("us", "imperial"),
    "temperature": _one_of("C", "F"),
    "gravity": _one_of("sg", "brix", "plato"),
    "hydrometer_c": _calibration,
    "colours": _one_of("auto", "dark", "light", "terminal"),
    "pinned": _instant,
}
