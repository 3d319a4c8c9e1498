"""What goes into a batch after the mixing."""

import re
from collections.abc import Mapping, Sequence
from typing import Any, get_args

from mustwatch.deeds.deed import NOTE, WHEN, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.readers import amount, number, one_of, to_come
from mustwatch.entry.quantity import LONGEST_AMOUNT, is_amount, is_household, tablets_of
from mustwatch.entry.substance import NAME_ENDS, is_unknown_powder, kind_of, substance, what_is
from mustwatch.ledger.events import Category

KINDS = get_args(Category)
MOST_NITROGEN = 1000.0  # mg a gram: nothing holds more than all of itself
PRESERVATIVE = (
    "Sulfite and sorbate have legal limits, and sulfite harms people with asthma: weigh it on a fine scale,"
    " do not breathe the dust or fumes. Local law and the label decide the dose. Neither stops a live ferment."
)
BLEACHED = (
    "Bleach and acid or sulfite make chlorine gas, which can kill: never use them on one day. Rinse with much plain"
    " water, with a window open."
)
FOAMS = "Any powder frees gas at once and can foam over: dissolve it in a cup of water first, add it slowly."
FEEDS = "New sugar can ferment again: nothing that lets no gas out may be on it until readings agree anew."
_BLEACH = re.compile(r"\bbleach\b|hypochlorit|chlorine", re.IGNORECASE)
_FIGURE = re.compile(r"[-+]?[\d.,/]+(?:[mk]?g|[mc]?l|lbs?|oz|t(?:b?sp))?", re.IGNORECASE)
_nitrogen = number("mg a gram", "mg/g", "mg", "mg n/g", like=120, low=0, high=MOST_NITROGEN, slip="; or write 21%")
_per_cent = number("%", like=21, low=0, high=MOST_NITROGEN / 10)


def nitrogen(text: str, ground: Ground) -> float:
    """Nitrogen in mg a gram; a label that says per cent has ten to the one."""
    if text.strip().endswith("%"):
        return 10 * float(_per_cent(text, ground))
    return float(_nitrogen(text, ground))


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    values = answers.values
    if "category" not in values and is_unknown_powder(values["what"]):
        answers.faults["category"] = f"{what_is(values['what'])} On the command line: --as KIND"
    keys = substance(values["what"], values.get("category")) | answers.keys()
    if "amount" not in values:
        answers.said.append("counted as an unknown dose")
    return [("added", keys)]


def names_bleach(text: str) -> bool:
    """Whether words name bleach or another chlorine cleaner."""
    return _BLEACH.search(text) is not None


def cautions(values: Mapping[str, Any]) -> tuple[str, ...]:
    """What can hurt in what goes in, by its kind."""
    if names_bleach(values.get("what", "")):
        return (BLEACHED,)
    kind = values.get("category") or kind_of(values.get("what", ""))[0]
    if kind in ("sulfite", "sorbate"):
        return (PRESERVATIVE,)
    if kind in ("nutrient", "carbonate", "acid", "tannin", "fining"):
        return (FOAMS,)
    return (FEEDS,) if kind in ("honey", "sugar", "juice", "fruit") else ()


def _measured(parts: Sequence[str]) -> dict[str, str] | None:
    """The name and the amount that stands before or behind it; tablets count only where no mass is given."""
    found: dict[str, str] | None = None
    for count in range(min(LONGEST_AMOUNT, len(parts)), 0, -1):
        for quantity, name in ((parts[-count:], parts[:-count]), (parts[:count], parts[count:])):
            if name and is_amount(quantity):
                name = name[1:] if len(name) > 1 and name[0] == "of" else name
                said = {"what": " ".join(name), "amount": " ".join(quantity)}
                if not is_household(said["amount"]):
                    return said
                found = found or said
    tablets = tablets_of(parts) or _uncounted(parts)
    return {"amount": tablets[0], "what": tablets[1]} if tablets else found


def _uncounted(parts: Sequence[str]) -> tuple[str, str] | None:
    """Campden by the piece: `2 campden` are tablets, and no grams."""
    figures = [part for part in parts if part.isdecimal()]
    name = " ".join(part for part in parts if not part.isdecimal())
    return (f"{figures[0]} tablets", name) if len(figures) == 1 and "campden" in name.lower() else None


def _split(words: Sequence[str]) -> dict[str, str]:
    """What was added and its amount as written, whichever stands first; the amount may be missing."""
    if len(words) > 1 and not all(word.strip() for word in words[1:]):
        raise ValueError("the amount is empty; give one such as 2 g, or leave it out if it is not known")
    single = len(words) == 1
    first, parts = words[0], [part for word in words for part in word.split()]
    if found := _measured(parts):
        return found
    figure = next((place for place, part in enumerate(parts) if _FIGURE.fullmatch(part)), None)
    if figure is not None and len(parts) > 1:
        # No amount, but meant for one: it is refused with what would be right.
        end = figure or 1 + is_household(" ".join(parts[:2]))
        head, tail = " ".join(parts[:end]), " ".join(parts[end:])
        return {"what": head, "amount": tail} if figure else {"what": tail, "amount": head}
    if single or parts[-1].lower() in NAME_ENDS or kind_of(parts[-1])[0] != "other":
        return {"what": " ".join(parts)}
    return {"what": first, "amount": " ".join(words[1:])}


DEED = Deed(
    "add",
    "added",
    "something goes in",
    "add something: add TAG nutrient 2g, add TAG 'oak chips' 8g --as oak",
    (
        Field("what", "its name, such as nutrient", key="what", line="WHAT",
              asked="added what? Write its name, such as nutrient"),
        Field("category", "picked, else told by the name", one_of(*KINDS), "category", KINDS, "kind", line="--as"),
        Field("amount", "such as 2 g or 0.5 l", amount, "*", line="AMOUNT *"),
        Field("nitrogen", "of a nutrient, mg a gram or %", nitrogen, "nitrogen_mg_per_g", line="--nitrogen MG_PER_G"),
        Field("taste_by", "oak, spice, fruit: 2 weeks", to_come, "taste_by", label="taste by",
              line="--taste-by DATE"),
        WHEN,
        NOTE,
    ),
    events=_events,
    cautions=cautions,
    known=lambda ground, prefill: {"what": prefill} if prefill else {},
    split=_split,
)  # fmt: skip
