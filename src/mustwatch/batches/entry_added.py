"""What quick entry says was added: `+5g nutrient`, `+0.5 l apple juice`, `+1 g potassium sorbate`."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, get_args

from mustwatch.batches.substance import kind_of
from mustwatch.ledger.events import Category
from mustwatch.trade.units import parse_mass_kg, parse_volume_l

NAME_ENDS = {"chips", "cubes", "staves", "spiral", "powder", "puree", "peel", "zest", "sticks", "beans", "hulls"}
_HOUSEHOLD = re.compile(
    r"\b(tsps?|tbsps?|(tea|table)?spoons?|cups?|pack(et)?s?|sachets?|tablets?|pinch(es)?|handfuls?)\b", re.IGNORECASE
)
_NUMBER = re.compile(r"-?\d+(?:[.,]\d+)?")


@dataclass(frozen=True, slots=True)
class Addition:
    """One addition as understood. used: how many words it took; question: what must be settled first, or None;
    typed: the amount as written, where it had to be converted."""

    used: int
    keys: dict[str, Any] = field(default_factory=dict)
    question: str | None = None
    typed: str | None = None


def added(amount: str, following: Sequence[str], gallon: str | None, known: Callable[[str], bool]) -> Addition:
    """The addition of an amount, whose unit may stand apart, and of the words that follow it.

    known: whether a word has a meaning of its own in quick entry, and so is no part of a name.
    """
    used = 1
    while _NUMBER.fullmatch(amount.split()[0] if amount else "") and following[used - 1 : used] and used < 3:
        # The unit may be one word or two: +5 g nutrient, +2 US gal water.
        amount, used = f"{amount} {following[used - 1]}", used + 1
        if not amount.lower().endswith((" us", " imperial", " imp")):
            break
    what = following[used - 1] if len(following) >= used else ""
    try:
        quantity = _quantity(amount, gallon)
    except ValueError as error:
        return Addition(used + bool(what), question=str(error))
    if not what or what.startswith(("@", "+")):
        names = ", ".join(get_args(Category))
        return Addition(used, question=f"+{amount} of what? Write it like +5g nutrient; one of: {names}")
    more = _rest_of_name(what, following[used:], known)
    what = " ".join([what, *more])
    category, nitrogen = kind_of(what)
    content = {} if nitrogen is None else {"nitrogen_mg_per_g": nitrogen}
    typed = None if re.fullmatch(r"[\d.]+ ?[gl]", amount) else f"+{amount}"
    return Addition(used + 1 + len(more), {"what": what, "category": category, **quantity, **content}, typed=typed)


def _rest_of_name(what: str, following: Sequence[str], known: Callable[[str], bool]) -> list[str]:
    """The words that still belong to the name: `sorbate` after `potassium`, `chips` after `oak`."""
    if not following or known(following[0]):
        return []
    told_by_it = kind_of(what)[0] == "other" and kind_of(f"{what} {following[0]}")[0] != "other"
    return [following[0]] if told_by_it or following[0].lower() in NAME_ENDS else []


def _quantity(text: str, gallon: str | None) -> dict[str, float]:
    """{"g": grams} or {"l": litres}. Raises ValueError with the question to ask."""
    try:
        return {"g": round(parse_mass_kg(text) * 1000, 3)}
    except ValueError:
        pass
    try:
        return {"l": round(parse_volume_l(text, gallon), 4)}
    except ValueError as error:
        if "imperial" in str(error) and "gal" in text.lower():
            raise
        hint = household(text) or "how much? Write it like +5g nutrient or +0.5l juice"
        raise ValueError(f"+{text}: {hint}") from None


def household(text: str) -> str | None:
    """What is to be said to spoons, cups and packets, None for any other amount.

    >>> household("2 tsp")[:12], household("2 g")
    ('spoons, cups', None)
    """
    if _HOUSEHOLD.search(text):
        return "spoons, cups and packets differ; weigh it, or record it without an amount: add TAG nutrient"
    return None
