"""The form for a closure, with what stands in it and when it was put on."""

from __future__ import annotations

from datetime import datetime
from typing import Any, get_args

from mustwatch.cellar.batch import Batch
from mustwatch.ledger.events import VENTED_CLOSURES, Closure
from mustwatch.ledger.settings import Settings
from mustwatch.screens.cautions import SEALED
from mustwatch.screens.forms.form import NOTE, WHEN, Answers, Field, Form


def sealed_caution(closure: str | None) -> tuple[str, ...]:
    """The caution of a closure that lets no gas out."""
    return (SEALED,) if closure and closure not in VENTED_CLOSURES else ()


def _events(answers: Answers) -> list[tuple[str, dict[str, Any]]]:
    closure = answers.text("closure")
    if closure is None:
        answers.faults["closure"] = "which closure is on it? A letter picks, space goes through them"
    else:
        answers.said.append("lets gas out" if closure in VENTED_CLOSURES else "SEALED, lets no gas out")
    return [("closed", {"closure": closure, "liquid": answers.text("liquid"), "note": answers.text("note")})]


def _known(batch: Batch, prefill: str, now: datetime, settings: Settings) -> dict[str, str]:
    if prefill:
        return {"closure": prefill}
    return {"closure": batch.closing.kind or "", "liquid": batch.closing.liquid or ""}


def _cautions(answers: Answers) -> tuple[str, ...]:
    return sealed_caution(answers.text("closure"))


FORM = Form(
    "close",
    "what closes it",
    (
        Field("closure", "closure", "letter picks, space goes on", get_args(Closure), "closure"),
        Field("liquid", "liquid", "in the airlock, such as water", key="liquid"),
        WHEN,
        NOTE,
    ),
    _events,
    _known,
    _cautions,
)
