"""Amounts from options: read as everywhere else, refused as every command refuses."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import ParamSpec, TypeVar

from mustwatch.batches import quantity
from mustwatch.batches.quantity import typed
from mustwatch.commands.context import Refused

__all__ = [
    "amount_of", "fits", "given", "lot_of", "mass_g", "named_amount", "temperature_c", "typed", "vessel_of",
    "volume_l",
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


amount_of = _refusing(quantity.amount_of)
fits = _refusing(quantity.fits)
lot_of = _refusing(quantity.lot_of)
mass_g = _refusing(quantity.mass_g)
named_amount = _refusing(quantity.named_amount)
temperature_c = _refusing(quantity.temperature_c)
vessel_of = _refusing(quantity.vessel_of)
volume_l = _refusing(quantity.volume_l)


def given(name: str, text: str | None) -> str | None:
    """The text of an option, None where it was left out. Raises Refused where it is blank: a slip in a script."""
    if text is not None and not text.strip():
        raise Refused(f"--{name} is empty; give a value, or leave the option out")
    return text
