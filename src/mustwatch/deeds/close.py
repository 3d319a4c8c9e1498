"""Which closure is on, so that it is known whether gas can get out."""

from collections.abc import Mapping
from typing import Any

from mustwatch.deeds.deed import NOTE, WHEN, Deed, Field, Ground
from mustwatch.deeds.readers import closure
from mustwatch.entry.quantity import CLOSURES
from mustwatch.ledger.events import VENTED_CLOSURES

SEALED = (
    "Sealed: no gas gets out. While any sugar can still ferment, pressure builds and glass can burst and cut."
    " Only a batch whose readings have agreed for weeks may be sealed; else fit an airlock now."
)


def sealed_caution(values: Mapping[str, Any]) -> tuple[str, ...]:
    """The caution of a closure that lets no gas out."""
    return (SEALED,) if values.get("closure") and values["closure"] not in VENTED_CLOSURES else ()


def _known(ground: Ground, prefill: str) -> dict[str, str]:
    closing = ground.batch.closing if ground.batch and not prefill else None
    return {"closure": closing.kind or "", "liquid": closing.liquid or ""} if closing else {"closure": prefill}


DEED = Deed(
    "close",
    "closed",
    "what closes it",
    "record the closure; a loosened cap and a tight one are two things",
    (
        Field("closure", "letter picks, space goes on", closure, "closure", CLOSURES, line="CLOSURE +",
              asked="which closure is on it? A letter picks, space goes through them"),
        Field("liquid", "in the airlock, such as water", key="liquid", line="--liquid TEXT"),
        Field("fit", "how it sits, such as loose", key="fit", line="--fit TEXT"),
        WHEN,
        NOTE,
    ),
    cautions=sealed_caution,
    known=_known,
)  # fmt: skip
