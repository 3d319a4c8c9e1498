"""The yeast goes in."""

import re
from datetime import timedelta
from typing import get_args

from mustwatch.deeds.deed import NOTE, WHEN, Deed, Field, Ground
from mustwatch.deeds.readers import degrees, mass_g, number, one_of
from mustwatch.entry.quantity import temperature_c
from mustwatch.ledger.events import YeastClassName
from mustwatch.ledger.visible import visible
from mustwatch.said import figures

FRESH = timedelta(hours=2)  # a must temperature older than that is no longer the one at pitching
CLASSES = get_args(YeastClassName)
# 15C-24C; one scale behind both, 15-24C, will do.
_RANGE = re.compile(r"\s*(-?[\d.,]+)\s*°?([CFcf])?\s*(?:-|–|to)\s*(-?[\d.,]+\s*°?[CFcf]?)\s*")


def _bounds(text: str, _: Ground) -> dict[str, float]:
    parts = _RANGE.fullmatch(text)
    if parts is None:
        raise ValueError(f"{visible(text)!r}: write it like 15C-24C")
    low, scale, high = parts.groups()
    found = {"low_c": temperature_c(low + (scale or high.lstrip("-0123456789., °"))), "high_c": temperature_c(high)}
    if found["low_c"] >= found["high_c"]:
        raise ValueError(f"{visible(text)!r}: the first temperature must be the lower one")
    return found


def _known(ground: Ground, prefill: str) -> dict[str, str]:
    last = ground.batch.temperatures[-1] if ground.batch and ground.batch.temperatures else None
    if last is None or last.of_air or ground.now - last.at > FRESH:
        return {}
    return {"must": figures.degrees(last.celsius, ground.settings)}


DEED = Deed(
    "pitch",
    "pitched",
    "the yeast goes in",
    "add the yeast",
    (
        Field("yeast", "what the packet says", key="yeast.label", usual="yeast", line="--yeast NAME",
              asked="which yeast? Write what the packet says, or: yeast"),
        Field("class", "letter or space picks", one_of(*CLASSES), "yeast.class", CLASSES, usual="unknown"),
        Field("tolerance", "alcohol it bears, % vol, as 14", number("% vol", "%", "vol", like=14),
              "yeast.tolerance_abv", line="--tolerance PERCENT"),
        Field("range", "it is made for, as 15C-24C", _bounds, "yeast", line="--range LOW-HIGH"),
        Field("amount", "such as 5 g", mass_g, "g", line="--amount AMOUNT"),
        Field("must", "temperature of the must, as 20C", degrees, "must_c", line="--must TEMPERATURE"),
        WHEN,
        NOTE,
    ),
    known=_known,
)  # fmt: skip
