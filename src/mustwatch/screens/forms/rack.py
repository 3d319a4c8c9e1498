"""The form for a racking: off the lees into another vessel."""

from __future__ import annotations

from datetime import datetime
from typing import Any, get_args

from mustwatch.cellar.batch import Batch
from mustwatch.entry.quantity import fits, typed, vessel_of, volume_l
from mustwatch.ledger.events import Closure
from mustwatch.ledger.settings import Settings
from mustwatch.said.figures import litres
from mustwatch.screens.forms.close import sealed_caution
from mustwatch.screens.forms.form import NOTE, WHEN, Answers, Field, Form
from mustwatch.screens.forms.readers import some_volume_l

SIZES = ("volume", "lees", "headspace")
CAUTION = (
    "Never lift or carry a full or leaking glass vessel: it breaks and cuts. Siphon where it stands."
    " Carbon dioxide collects low in closed rooms: let air in first, and do not bend down to it."
)


def _events(answers: Answers) -> list[tuple[str, dict[str, Any]]]:
    gallon = answers.settings.gallon
    vessel = answers.value("into", lambda text: vessel_of(text, gallon))
    readers = (some_volume_l(gallon), lambda text: volume_l(text, gallon), lambda text: volume_l(text, gallon))
    sizes = {f"{name}_l": answers.value(name, reader) for name, reader in zip(SIZES, readers, strict=True)}
    for name in SIZES[1:]:
        if (size := sizes[f"{name}_l"]) is not None:
            answers.said.append(f"{name} {litres(size)}")
    answers.value("volume", lambda text: fits(volume_l(text, gallon), vessel))
    keys = {
        "vessel": vessel,
        **sizes,
        "note": answers.text("note"),
        "typed": typed(answers.text("into"), *(answers.text(name) for name in SIZES)),
    }
    closure = answers.text("closure")
    if closure is None:
        answers.said.append("closure NOT KNOWN until it is recorded")
    return [("racked", keys), *([("closed", {"closure": closure})] if closure else [])]


def _known(batch: Batch, prefill: str, now: datetime, settings: Settings) -> dict[str, str]:
    if not batch.vessel_kind or batch.vessel_kind == "unknown":
        return {}
    size = f" {batch.capacity_l:g} l" if batch.capacity_l else ""
    return {"into": f"{batch.vessel_kind}{size}"}


def _cautions(answers: Answers) -> tuple[str, ...]:
    return (*sealed_caution(answers.text("closure")), CAUTION)


FORM = Form(
    "rack",
    "off the lees into another vessel",
    (
        Field("into", "into", "kind and size, such as jug 5 l", key="vessel"),
        Field("volume", "volume", "what there is now, such as 4.2 l", key="volume_l"),
        Field("lees", "lees", "left behind, such as 300 ml", key="lees_l"),
        Field("headspace", "headspace", "the air above it, such as 200 ml", key="headspace_l"),
        Field("closure", "closure", "what is on it now; letter picks", get_args(Closure)),
        WHEN,
        NOTE,
    ),
    _events,
    _known,
    _cautions,
)
