"""The form for the bottling: the lots, the style, the priming."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from mustwatch.cellar.batch import Batch
from mustwatch.entry.quantity import lot_of, mass_g, typed
from mustwatch.ledger.settings import Settings
from mustwatch.screens.forms.form import NOTE, WHEN, Answers, Field, Form
from mustwatch.screens.forms.readers import number

LOTS = ("lot1", "lot2", "lot3", "lot4")
CAUTION = (
    "Sugar that can still ferment turns into gas with nowhere to go: glass bursts and cuts, also weeks later."
    " Bottle only what is at rest; sparkling only in bottles made for it, measured priming, eyes protected."
)


def _events(answers: Answers) -> list[tuple[str, dict[str, Any]]]:
    gallon = answers.settings.gallon
    lots = [lot for name in LOTS if (lot := answers.value(name, lambda text: lot_of(text, gallon))) is not None]
    if not any(answers.text(name) for name in LOTS):
        answers.faults["lot1"] = "how many of which bottles? Write it like 12 x 330ml beer crown-cap"
    rating = answers.told_value("rating", number(0, 50, "bar", "bar gauge", like=6), "bottles made for {:g} bar")
    if rating is not None:
        lots = [lot | {"rating_bar": rating} for lot in lots]
    keys = {
        "lots": lots,
        "style": answers.text("style"),
        "priming": _priming(answers),
        "note": answers.text("note"),
        "typed": typed(*(answers.text(name) for name in LOTS), answers.text("priming")),
    }
    return [("bottled", keys)]


def _priming(answers: Answers) -> dict[str, Any] | None:
    grams = answers.value("priming", mass_g)
    return None if grams is None else {"what": answers.text("sugar") or "sucrose", "g": grams}


def _known(batch: Batch, prefill: str, now: datetime, settings: Settings) -> dict[str, str]:
    finish = batch.mixed.target.finish if batch.mixed and batch.mixed.target else None
    style = {"sparkling": "sparkling", "dry": "still", "sweet": "still"}.get(finish or "", "")
    return {"style": style, "sugar": "sucrose"} if style else {"sugar": "sucrose"}


def _cautions(answers: Answers) -> tuple[str, ...]:
    return (CAUTION,)


FORM = Form(
    "bottle",
    "into bottles",
    (
        Field("lot1", "bottles", "12 x 330ml beer crown-cap", key="lots"),
        Field("lot2", "and", "6 x 750ml still-wine cork"),
        Field("lot3", "and", "COUNT x SIZE BOTTLE CLOSURE"),
        Field("lot4", "and", "one kind a line"),
        Field("style", "style", "letter or space picks", ("still", "sparkling"), "style"),
        Field("rating", "rating", "bar the bottles are made for, as 6"),
        Field("priming", "priming", "sugar in all, such as 30 g", key="priming.g"),
        Field("sugar", "of", "sucrose, glucose or honey", key="priming.what"),
        WHEN,
        NOTE,
    ),
    _events,
    _known,
    _cautions,
)
