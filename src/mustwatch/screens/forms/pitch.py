"""The form for the yeast that goes in."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any, get_args

from mustwatch.cellar.batch import Batch
from mustwatch.entry.quantity import mass_g, typed
from mustwatch.ledger.events import YeastClassName
from mustwatch.ledger.settings import Settings
from mustwatch.said import figures
from mustwatch.screens.forms.form import NOTE, WHEN, Answers, Field, Form
from mustwatch.screens.forms.readers import degrees, number

FRESH = timedelta(hours=2)  # a must temperature older than that is no longer the one at pitching


def _events(answers: Answers) -> list[tuple[str, dict[str, Any]]]:
    label = answers.text("yeast")
    if label is None:
        answers.faults["yeast"] = "which yeast? Write what the packet says, or: yeast"
    tolerance = number(0, 30, "% vol", "%", "vol", like=14)
    yeast = {
        "label": label,
        "class": answers.text("class") or "unknown",
        "tolerance_abv": answers.told_value("tolerance", tolerance, "bears {:g} % vol"),
    }
    grams = answers.value("amount", mass_g)
    must_c = answers.value("must", degrees(answers.settings))
    if must_c is not None:
        answers.said.append(f"must {figures.degrees(must_c, answers.settings)}")
    keys = {
        "yeast": {name: value for name, value in yeast.items() if value is not None},
        "g": grams,
        "must_c": must_c,
        "note": answers.text("note"),
        "typed": typed(answers.text("amount"), answers.text("must")),
    }
    return [("pitched", keys)]


def _known(batch: Batch, prefill: str, now: datetime, settings: Settings) -> dict[str, str]:
    last = batch.temperatures[-1] if batch.temperatures else None
    if last is None or last.of_air or now - last.at > FRESH:
        return {}
    celsius = last.celsius if settings.temperature == "C" else last.celsius * 9 / 5 + 32
    return {"must": f"{round(celsius, 1):g}{settings.temperature}"}


def _cautions(answers: Answers) -> tuple[str, ...]:
    return ()


FORM = Form(
    "pitch",
    "the yeast goes in",
    (
        Field("yeast", "yeast", "what the packet says", key="yeast.label"),
        Field("class", "class", "letter or space picks", get_args(YeastClassName), "yeast.class"),
        Field("tolerance", "tolerance", "alcohol it bears, % vol, as 14", key="yeast.tolerance"),
        Field("amount", "amount", "such as 5 g", key="g"),
        Field("must", "must", "temperature of the must, as 20C", key="must_c"),
        WHEN,
        NOTE,
    ),
    _events,
    _known,
    _cautions,
)
