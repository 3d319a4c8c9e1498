"""The calculations by name; each is loaded when it is first asked for."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from .purposes import PURPOSES

if TYPE_CHECKING:
    from .form import Calculation

NAMES = tuple(PURPOSES)


def calculation(name: str) -> Calculation:
    """The calculation of that name.

    Range: one of NAMES. Errors: ValueError naming those there are. Source: the bench itself.

    >>> calculation("honey").fields[0].name
    'volume'
    """
    if name not in NAMES:
        raise ValueError(f"the bench has no {name!r}; it has {', '.join(NAMES)}")
    return import_module(f"{__package__}.{name}").CALCULATION


def calculations() -> tuple[Calculation, ...]:
    """All calculations, in the order of a batch's life.

    Range: none. Errors: none. Source: the bench itself.

    >>> len(calculations())
    16
    """
    return tuple(calculation(name) for name in NAMES)
