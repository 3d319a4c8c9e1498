"""What quick entry says was added: `+5g nutrient`, `+3 lb 4 oz honey`, `+0.5 l apple juice`."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, get_args

from mustwatch.entry.substance import kind_of
from mustwatch.ledger.events import Category
from mustwatch.trade.units import parse_mass_kg, parse_volume_l

NAME_ENDS = {"chips", "cubes", "staves", "spiral", "powder", "puree", "peel", "zest", "sticks", "beans", "hulls"}
LONGEST_AMOUNT = 5  # words: +1 1/2 US fl oz
LONGEST_NAME = 4
_HOUSEHOLD = re.compile(
    r"(?<![a-z])(tsps?|tbsps?|(tea|table)?spoons?|cups?|pack(et)?s?|sachets?|tablets?|pinch(es)?|handfuls?)\b",
    re.IGNORECASE,
)
UNCLEAR = re.compile(r"differ by| must be |is unclear")  # what is wrong with an amount whose unit is known


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
    used, quantity, refusal = _amount_of(words, gallon)
    if not quantity:
        # What was to be its name is asked about with it.
        return Addition(
            next((place for place, word in enumerate(words) if place and known(word)), len(words)), question=refusal
        )
    written = " ".join(words[:used])
    rest = words[used:]
    linked = int(rest[:1] == ["of"])
    count = _words_of_name(rest[linked:], known)
    if not count:
        names = ", ".join(get_args(Category))
        return Addition(used, question=f"+{written} of what? Write it like +5g nutrient; one of: {names}")
    what = " ".join(rest[linked : linked + count])
    category, nitrogen = kind_of(what)
    content = {} if nitrogen is None else {"nitrogen_mg_per_g": nitrogen}
    typed = None if re.fullmatch(r"[\d.]+ ?[gl]", written) else f"+{written}"
    return Addition(used + linked + count, {"what": what, "category": category, **quantity, **content}, typed=typed)


def _before_the_next(words: Sequence[str]) -> list[str]:
    """The words up to a time or another addition."""
    end = next((place for place, word in enumerate(words) if word.startswith(("@", "+"))), len(words))
    return list(words[:end])


def _amount_of(words: Sequence[str], gallon: str | None) -> tuple[int, dict[str, float], str]:
    """How many words the amount takes, the longest that is one; {"g"} or {"l"}; else what is to be asked."""
    faults: list[str] = []
    for count in range(min(LONGEST_AMOUNT, len(words)), 0, -1):
        text = " ".join(words[:count])
        for key, read in (("g", lambda t: parse_mass_kg(t) * 1000), ("l", lambda t: parse_volume_l(t, gallon))):
            try:
                found = round(read(text), 4)
            except ValueError as error:
                faults += [str(error)] if UNCLEAR.search(str(error)) else []
                continue
            if found > 0:
                return count, {key: found}, ""
            return count, {}, f"+{text}: nothing at all? Give an amount above 0"
    if faults:
        return 0, {}, faults[0] if "differ by" in faults[0] else f"+{words[0]}: {faults[0]}"
    hint = household(" ".join(words[:3]))
    said = f"{hint}; weigh it, or record it without an amount: add TAG nutrient" if hint else None
    return 0, {}, f"+{' '.join(words[:2])}: {said or 'how much? Write it like +5g nutrient or +0.5l juice'}"


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


def is_amount(words: Sequence[str]) -> bool:
    """Whether the words are an amount with its unit, and nothing else."""
    used, quantity, _ = _amount_of(words, "us")
    return bool(quantity) and used == len(words)


def household(text: str) -> str | None:
    """What is to be said to spoons, cups and packets, None for any other amount.

    >>> household("2 tsp"), household("2 g")
    ('spoons, cups and packets differ', None)
    """
    return "spoons, cups and packets differ" if _HOUSEHOLD.search(text) else None
