"""The form for what goes into a batch after the mixing."""

from __future__ import annotations

from datetime import datetime
from typing import Any, get_args

from mustwatch.cellar.batch import Batch
from mustwatch.entry.quantity import amount_of, typed
from mustwatch.entry.substance import kind_of
from mustwatch.ledger.events import Category
from mustwatch.ledger.settings import Settings
from mustwatch.screens.forms.form import NOTE, WHEN, Answers, Field, Form
from mustwatch.screens.forms.readers import number

PRESERVATIVE = (
    "Sulfite and sorbate have legal limits, and sulfite harms people with asthma: weigh it on a fine scale,"
    " do not breathe the dust or fumes. Local law and the label decide the dose. Neither stops a live ferment."
)
FOAMS = "Any powder frees gas at once and can foam over: dissolve it in a cup of water first, add it slowly."
FEEDS = "New sugar can ferment again: nothing that lets no gas out may be on it until readings agree anew."


def _events(answers: Answers) -> list[tuple[str, dict[str, Any]]]:
    what, category = answers.text("what"), _category(answers)
    if what is None:
        answers.faults["what"] = "what was added? Write its name, such as nutrient"
    else:
        answers.said.append(f"taken as {category}")
    amount = answers.value("amount", lambda text: amount_of(text, answers.settings.gallon)) or {}
    if not amount and "amount" not in answers.faults:
        answers.said.append("amount NOT KNOWN, counted as an unknown dose")
    nitrogen = answers.value("nitrogen", number(0, 1000, "mg/g", "mg", "mg n/g", like=120))
    if nitrogen is None and what is not None and category == "nutrient":
        nitrogen = kind_of(what)[1]
    if nitrogen is not None:
        answers.said.append(f"{nitrogen:g} mg nitrogen a gram")
    keys = {
        "what": what,
        "category": category,
        "g": round(amount["kg"] * 1000, 4) if "kg" in amount else None,
        "l": amount.get("l"),
        "nitrogen_mg_per_g": nitrogen,
        "note": answers.text("note"),
        "typed": typed(answers.text("amount")),
    }
    return [("added", keys)]


def _category(answers: Answers) -> str:
    """The kind picked, else the one the name tells."""
    return answers.text("category") or kind_of(answers.text("what") or "")[0]


def _known(batch: Batch, prefill: str, now: datetime, settings: Settings) -> dict[str, str]:
    return {"what": prefill} if prefill else {}


def _cautions(answers: Answers) -> tuple[str, ...]:
    category = _category(answers)
    if category in ("sulfite", "sorbate"):
        return (PRESERVATIVE,)
    if category in ("nutrient", "carbonate", "acid", "tannin", "fining"):
        return (FOAMS,)
    return (FEEDS,) if category in ("honey", "sugar", "juice", "fruit") else ()


FORM = Form(
    "add",
    "something goes in",
    (
        Field("what", "what", "its name, such as nutrient", key="what"),
        Field("category", "kind", "picked, else told by the name", get_args(Category), "category"),
        Field("amount", "amount", "such as 2 g or 0.5 l", key="g"),
        Field("nitrogen", "nitrogen", "of a nutrient, mg a gram, on its label", key="nitrogen"),
        WHEN,
        NOTE,
    ),
    _events,
    _known,
    _cautions,
)
