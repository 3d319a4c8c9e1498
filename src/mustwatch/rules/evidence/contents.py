"""What of a batch makes some people ill, for its label: sulfites, traces of egg, milk, fish or nuts, honey."""

import re
from typing import NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.doses import sulfites, total
from mustwatch.rules.evidence.sightings import says

LABELLED_MG_L = 10.0  # of SO2 in all: 27 CFR 4.32(e), 21 CFR 130.9 and Annex II of Regulation (EU) 1169/2011
INFANTS = "made with honey, not for infants under 12 months"
ALLERGENS = (
    ("egg", re.compile(r"\b(eggs?|albumin\w*|egg white)\b", re.I)),
    ("milk", re.compile(r"\b(milk|casein\w*|lactose|cream)\b", re.I)),
    ("fish", re.compile(r"\b(fish|isinglass)\b", re.I)),
    ("shellfish", re.compile(r"\b(shellfish|chitosan|crab|shrimp)\b", re.I)),
    ("nuts", re.compile(r"\b(nuts?|almonds?|hazelnuts?|walnuts?|pecans?|cashews?|peanuts?)\b", re.I)),
    ("pollen", re.compile(r"\bpollen\b", re.I)),
)


class Contents(NamedTuple):
    """named: what a label names, `sulfites` first; honey: whether the words about infants belong there, also where
    nobody wrote down what it was made of; unknown_sulfite: a dose whose mg/L is not known, so that it is named."""

    named: tuple[str, ...]
    honey: bool
    unknown_sulfite: bool


def contents_of(batch: Batch, labelled_mg_l: float = LABELLED_MG_L) -> Contents:
    """What a label of the batch has to name; a sulfite of unknown dose counts as enough."""
    doses = sulfites(batch)
    unknown = any(dose.mg_per_l is None for dose in doses)
    names = [event.what for event in batch.additions]
    names += [part.what for part in batch.mixed.ingredients] if batch.mixed else []
    named = ["sulfites"] if unknown or total(doses) >= labelled_mg_l else []
    named += [word for word, pattern in ALLERGENS if any(says(name, pattern) for name in names)]
    return Contents(tuple(named), has_honey(batch), unknown)


def has_honey(batch: Batch) -> bool:
    """Whether there is honey in it; not known counts as yes."""
    if batch.mixed is None:
        return True
    categories = [part.category for part in batch.mixed.ingredients]
    return "honey" in categories or any(event.category == "honey" for event in batch.additions)
