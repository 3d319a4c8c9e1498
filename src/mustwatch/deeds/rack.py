"""Off the lees into another vessel."""

from collections.abc import Mapping
from typing import Any

from mustwatch.deeds.close import sealed_caution
from mustwatch.deeds.deed import NOTE, WHEN, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.readers import closure, vessel, volume_l
from mustwatch.entry.quantity import CLOSURES, fits, same_batch
from mustwatch.said.figures import litres

CAUTION = (
    "Never lift or carry a full or leaking glass vessel: it breaks and cuts. Siphon where it stands."
    " Carbon dioxide collects low in closed rooms: let air in first, and do not bend down to it."
)


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    volume, batch = answers.values.get("volume"), answers.ground.batch
    try:
        fits(volume, answers.values.get("into"))
        same_batch(volume, batch.volume_l if batch else None)
    except ValueError as error:
        answers.faults["volume"] = str(error)
    if "closure" in answers.values:
        return [("racked", answers.keys()), ("closed", {"closure": answers.values["closure"]})]
    answers.said.append("closure NOT KNOWN until it is recorded")
    return [("racked", answers.keys())]


def _cautions(values: Mapping[str, Any]) -> tuple[str, ...]:
    return (*sealed_caution(values), CAUTION)


def _known(ground: Ground, prefill: str) -> dict[str, str]:
    batch = ground.batch
    if not batch or not batch.vessel_kind or batch.vessel_kind == "unknown":
        return {}
    return {"into": batch.vessel_kind + (f" {litres(batch.capacity_l)}" if batch.capacity_l else "")}


DEED = Deed(
    "rack",
    "racked",
    "off the lees into another vessel",
    "rack into another vessel",
    (
        Field("into", "kind and size, such as jug 5 l", vessel, "vessel", line="--into KIND SIZE"),
        Field("volume", "what there is now, such as 4.2 l", volume_l, "volume_l", line="--volume AMOUNT"),
        Field("lees", "left behind, such as 300 ml", volume_l, "lees_l", line="--lees AMOUNT"),
        Field("headspace", "the air above it, such as 200 ml", volume_l, "headspace_l",
              line="--headspace AMOUNT"),
        Field("closure", "what is on it now; letter picks", closure, choices=CLOSURES, line="--closure CLOSURE"),
        WHEN,
        NOTE,
    ),
    events=_events,
    cautions=_cautions,
    known=_known,
)  # fmt: skip
