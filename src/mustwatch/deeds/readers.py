"""How the fields of deeds are read: each gives a metric value, or raises ValueError with what would be right."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime
from math import inf
from typing import TYPE_CHECKING, Any

from mustwatch.entry import quantity
from mustwatch.entry.bounds import HIGHEST_SG, LOWEST_SG
from mustwatch.entry.quantity import CLOSURES, closure_of
from mustwatch.entry.when import coming, moment
from mustwatch.ledger.visible import visible
from mustwatch.said.figures import gravity
from mustwatch.trade.gravity import sg_from_brix, sg_from_plato
from mustwatch.trade.units import NoQuantity, parse_gravity, parse_number

if TYPE_CHECKING:
    from mustwatch.deeds.ground import Ground
    from mustwatch.ledger.settings import Settings

Reader = Callable[[str, "Ground"], Any]

COLDEST_C, WARMEST_C = -2.0, 45.0  # a bare number outside is asked about: no living must is there
_COMMA = re.compile(r"\s*([+-]?\d+),(\d+)(\D*)")
_BARE = re.compile(r"\s*[+-]?\d+(?:[.,]\d+)?\s*")


def words(text: str, _: Ground) -> str:
    """Words, without the blanks around them."""
    return text.strip()


def verbatim(text: str, _: Ground) -> str:
    """Every sign as it was typed."""
    return text


def small(text: str, _: Ground) -> str:
    """A tag or the name of a rule, which are written in small letters: keyboards begin with a capital."""
    return text.strip().lower()


def one_of(*choices: str) -> Reader:
    """A reader of a word of a fixed set, however it is spelt: White Wine, ph-meter."""
    spelt = {_plain(choice): choice for choice in choices}

    def read(text: str, _: Ground) -> str:
        if (found := spelt.get(_plain(text))) is None:
            raise ValueError(f"{visible(text.strip(), limit=40)!r} is none of: {', '.join(choices)}")
        return found

    return read


def _plain(text: str) -> str:
    return re.sub(r"[-_\s]", "", text.lower())


def number(unit: str, *also: str, like: float, low: float = -inf, high: float = inf, slip: str = "") -> Reader:
    """A reader of numbers from low to high, with or without their unit; `like` is an example of one."""

    def read(text: str, _: Ground) -> float:
        shown = visible(text.strip(), limit=20)
        try:
            value, behind = _parsed(text)
        except ValueError:
            raise ValueError(f"{shown} is no number; write it like {like:g}") from None
        if behind.lower() not in ("", unit.lower(), *also):
            raise ValueError(f"{shown}: write the number alone{f', in {unit}' if unit else ''}, such as {like:g}")
        if not low <= value <= high:
            raise ValueError(f"{shown}: it must be {low:g} to {high:g} {unit}{slip}")
        return value

    return read


def _parsed(text: str) -> tuple[float, str]:
    # No figure of a field goes into the thousands, so that 1,002 is no question here.
    if found := _COMMA.fullmatch(text):
        return float(f"{found[1]}.{found[2]}"), found[3].strip()
    return parse_number(text)


def mass_g(text: str, _: Ground) -> float:
    """A mass in grams."""
    return quantity.mass_g(text)


def _by_gallon(read: Callable[[str, str | None], Any]) -> Reader:
    return lambda text, ground: read(text, ground.settings.gallon)


volume_l = _by_gallon(quantity.volume_l)  # litres
amount = _by_gallon(quantity.amount_of)  # {"g": mass} or {"l": volume}
vessel = _by_gallon(quantity.vessel_of)  # {"kind", "capacity_l"?}
lot = _by_gallon(quantity.lot_of)  # one lot of bottles


def closure(text: str, _: Ground) -> str:
    """A closure in any spelling: solid-bung, Solid Bung, with an airlock."""
    parts = text.split()
    found, used = closure_of(parts)
    if found is None or used < len(parts):
        raise ValueError(f"{visible(' '.join(parts), limit=40)!r} is no closure; one of: {', '.join(CLOSURES)}")
    return found


def gravity_sg(text: str, _: Ground) -> float:
    """A specific gravity, from any scale with its sign."""
    shown = visible(text.strip(), limit=40)
    try:
        value, scale = parse_gravity(text)
    except NoQuantity:
        raise ValueError(f"{shown!r} is no gravity; write it like 1.090 or 22Bx") from None
    sg = value if scale == "sg" else (sg_from_brix if scale == "brix" else sg_from_plato)(value)
    if not LOWEST_SG <= sg <= HIGHEST_SG:
        raise ValueError(f"{shown}: no must is there; expected {gravity(LOWEST_SG)} to {gravity(HIGHEST_SG)}")
    return round(sg, 5)


def degrees(text: str, ground: Ground) -> float:
    """A temperature in °C; a bare number is asked about unless its scale stands beside the field."""
    text = scaled(text, ground.settings) if ground.scaled else text
    try:
        return quantity.temperature_c(text)
    except NoQuantity:
        raise ValueError(f"{visible(text.strip(), limit=20)} is no temperature; write 21C or 70F") from None


def scaled(text: str, settings: Settings) -> str:
    """A temperature with its scale; a bare number is in the cellar's own. Raises ValueError where it may not be."""
    bare = text.strip()
    if not _BARE.fullmatch(text):
        return bare
    if not COLDEST_C <= quantity.temperature_c(f"{bare}{settings.temperature}") <= WARMEST_C:
        raise ValueError(f"{bare}: which scale? Write {bare}C or {bare}F")
    return f"{bare}{settings.temperature}"


def past(text: str, ground: Ground) -> datetime:
    """A moment that has been."""
    try:
        # Where this clock is behind the record, what is meant is said in the record's time.
        return moment(text, max(ground.now, ground.cellar.now))
    except ValueError as error:
        # The sign that begins a time in quick entry is of no use in a field of its own.
        raise ValueError(str(error).replace("@", "")) from None


def to_come(text: str, ground: Ground) -> datetime:
    """A day or moment to come."""
    return coming(text, ground.now)
