"""Amounts from options: read as everywhere else, refused as every command refuses."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import wraps
from typing import ParamSpec, TypeVar

from mustwatch.commands.context import Refused
from mustwatch.entry import quantity
from mustwatch.entry.entry_added import LONGEST_AMOUNT, NAME_ENDS, household
from mustwatch.entry.entry_figures import HIGHEST_SG, LOWEST_SG
from mustwatch.entry.quantity import typed
from mustwatch.entry.substance import kind_of
from mustwatch.ledger.visible import visible

_FIGURE = re.compile(r"[-+]?[\d.,/]+(?:[mk]?g|[mc]?l|lbs?|oz|t(?:b?sp))?", re.IGNORECASE)

__all__ = [
    "amount_of", "closure_named", "fits", "given", "gravity_sg", "lot_of", "mass_g", "name_and_amount", "named_amount",
    "same_batch", "temperature_c", "typed", "vessel_of", "volume_l",
]  # fmt: skip

Asked = ParamSpec("Asked")
Read = TypeVar("Read")


def _refusing(reader: Callable[Asked, Read]) -> Callable[Asked, Read]:
    @wraps(reader)
    def read(*args: Asked.args, **keys: Asked.kwargs) -> Read:
        try:
            return reader(*args, **keys)
        except ValueError as error:
            raise Refused(str(error)) from None

    return read


def gravity_sg(name: str, text: str) -> float:
    """A specific gravity, from any scale with its sign. Raises Refused."""
    from mustwatch.trade.gravity import sg_from_brix, sg_from_plato
    from mustwatch.trade.units import parse_gravity

    try:
        value, scale = parse_gravity(text)
        sg = value if scale == "sg" else (sg_from_brix if scale == "brix" else sg_from_plato)(value)
    except ValueError as error:
        said = str(error)
        if said.startswith("expected a number"):
            said = f"{text.strip()!r} is no gravity; write it like 1.090 or 22Bx"
        raise Refused(f"--{name}: {visible(said)}") from None
    if not LOWEST_SG <= sg <= HIGHEST_SG:
        raise Refused(f"--{name} {visible(text)}: no must is there; expected {LOWEST_SG:.3f} to {HIGHEST_SG:.3f}")
    return round(sg, 5)


def closure_named(words: Sequence[str]) -> str:
    """The closure that words name in any spelling: solid-bung, Solid Bung. Raises Refused."""
    from mustwatch.entry.entry_pot import CLOSURES, closure_of

    parts = [part for word in words for part in word.split()]
    found, used = closure_of(parts)
    if found is None or used < len(parts):
        shown = visible(" ".join(parts), limit=40)
        raise Refused(f"{shown!r} is no closure; one of: {', '.join(CLOSURES)}")
    return found


def name_and_amount(words: Sequence[str], gallon: str | None) -> tuple[str, str | None]:
    """What was added and its amount as written, whichever stands first; the amount may be missing."""
    first, *more = words
    words = [part for word in words for part in word.split()]
    for count in range(min(LONGEST_AMOUNT, len(words)), 0, -1):
        for amount, name in ((words[-count:], words[:-count]), (words[:count], words[count:])):
            if name and _is_amount(" ".join(amount), gallon):
                return " ".join(name[1:] if len(name) > 1 and name[0] == "of" else name), " ".join(amount)
    figure = next((place for place, word in enumerate(words) if _FIGURE.fullmatch(word)), None)
    if figure and len(words) > 1:
        return " ".join(words[:figure]), " ".join(words[figure:])
    if figure == 0 and len(words) > 1:
        return " ".join(words[1:]), words[0] if not household(" ".join(words[:2])) else " ".join(words[:2])
    names = not more or words[-1].lower() in NAME_ENDS or kind_of(words[-1])[0] != "other"
    return (" ".join(words), None) if names else (first, " ".join(more))


def _is_amount(text: str, gallon: str | None) -> bool:
    if not (text[:1].isnumeric() or text[:1] in ".,"):
        return False
    try:
        quantity.amount_of(text, gallon or "us")
    except ValueError as error:
        return "nothing at all" in str(error) or " must be " in str(error)
    return True


amount_of = _refusing(quantity.amount_of)
fits = _refusing(quantity.fits)
lot_of = _refusing(quantity.lot_of)
mass_g = _refusing(quantity.mass_g)
named_amount = _refusing(quantity.named_amount)
same_batch = _refusing(quantity.same_batch)
temperature_c = _refusing(quantity.temperature_c)
vessel_of = _refusing(quantity.vessel_of)
volume_l = _refusing(quantity.volume_l)


def given(name: str, text: str | None) -> str | None:
    """The text of an option, None where it was left out. Raises Refused where it is blank: a slip in a script."""
    if text is not None and not text.strip():
        raise Refused(f"--{name} is empty; give a value, or leave the option out")
    return text
