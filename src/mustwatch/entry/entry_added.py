"""What quick entry says was added: `+5g nutrient`, `+3 lb 4 oz honey`, `+0.5 l apple juice`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, get_args

from mustwatch.entry.quantity import Unweighed, amount_at_start, typed
from mustwatch.entry.substance import NAME_ENDS, kind_of, substance
from mustwatch.ledger.events import Category
from mustwatch.trade.units import NoQuantity

LONGEST_NAME = 4


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
    words = [amount, *_before_the_next(following)]
    try:
        used, quantity = amount_at_start(words, gallon)
    except ValueError as fault:
        # What was to be its name is asked about with it.
        end = next((place for place, word in enumerate(words) if place and known(word)), len(words))
        return Addition(end, question=_question(words, fault))
    written, rest = " ".join(words[:used]), words[used:]
    linked = int(rest[:1] == ["of"])
    count = _words_of_name(rest[linked:], known)
    if not count:
        names = ", ".join(get_args(Category))
        return Addition(used, question=f"+{written} of what? Write it like +5g nutrient; one of: {names}")
    keys = substance(" ".join(rest[linked : linked + count])) | quantity
    return Addition(used + linked + count, keys, typed=typed(written))


def _question(words: Sequence[str], fault: ValueError) -> str:
    if isinstance(fault, Unweighed):
        return f"{fault}: add TAG nutrient"
    if isinstance(fault, NoQuantity):
        return f"+{' '.join(words[:2])}: how much? Write it like +5g nutrient or +0.5l juice"
    return str(fault)


def _before_the_next(words: Sequence[str]) -> list[str]:
    """The words up to a time or another addition."""
    end = next((place for place, word in enumerate(words) if word.startswith(("@", "+"))), len(words))
    return list(words[:end])


def _words_of_name(words: Sequence[str], known: Callable[[str], bool]) -> int:
    """How many words are the name: `potassium sorbate`, `medium toast oak chips`, `dry yeast`; 0 for none."""
    told = [1] if words and not known(words[0]) else []
    for count in range(2, min(LONGEST_NAME, len(words)) + 1):
        if known(words[count - 1]):
            break
        last, whole = words[count - 1].lower(), " ".join(words[:count])
        tells = last in NAME_ENDS or kind_of(last)[0] != "other"
        if tells or (kind_of(" ".join(words[: count - 1]))[0] == "other" and kind_of(whole)[0] != "other"):
            told.append(count)
    return max(told, default=0)
