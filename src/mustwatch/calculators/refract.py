"""A refractometer after the yeast went in."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import refract as trade

from . import shown
from .form import Answer, Calculation, Field


def work(values: Mapping[str, Any]) -> Answer:
    start, reading, present = values["start"], values["reading"], values["present"]
    if start is not None:
        return _from_start(start, reading)
    if present is not None:
        return _from_both(reading, present)
    raise ValueError("give the start gravity, or a hydrometer reading of the same sample as present")


def _from_start(start: float, reading: float) -> Answer:
    seen = trade.refracted(start, reading)
    result = {
        "sg": seen.sg,
        "sg_low": seen.sg_low,
        "sg_high": seen.sg_high,
        "abv": seen.abv,
        "abv_low": seen.abv_low,
        "abv_high": seen.abv_high,
    }
    lines = (
        ("gravity", f"about {shown.sg(seen.sg)}"),
        ("fairly between", f"{shown.sg(seen.sg_low)} and {shown.sg(seen.sg_high)}"),
        ("alcohol", shown.alcohol_span(seen.abv_low, seen.abv_high)),
    )
    return Answer(result, lines, (seen.caution,))


def _from_both(reading: float, present: float) -> Answer:
    abv, extract = trade.strength_from_both(reading, present)
    result = {"abv": abv, "abv_low": max(0.0, abv - 1.5), "abv_high": abv + 1.5, "extract_g_per_l": extract}
    lines = (
        ("alcohol", shown.alcohol_span(max(0.0, abv - 1.5), abv + 1.5)),
        ("extract", f"about {extract:.0f} g/L, counted as sugar"),
    )
    method = "the alcohol and extract that refract as the one instrument shows and weigh as the other does"
    return Answer(result, lines, (trade.NOT_FOR, "Good to about 1.5 % vol either way."), method)


CALCULATION = Calculation(
    name="refract",
    fields=(
        Field("reading", "number", "Reading", "what the refractometer shows", unit="Brix", sample="12"),
        Field("start", "gravity", "Start gravity", "before the yeast", optional=True),
        Field("present", "gravity", "Hydrometer", "of the same sample, if the start is not known", optional=True),
    ),
    work=work,
    method="refractions of alcohol and sugar added, met with the mass balance from the start",
    source="CRC Handbook refractive indices; Balling's mass balance; nothing published for mead",
    range="starts 1.030 to 1.170; half a Brix of doubt; never for stalls, stability or sealing",
    example="reading=12 start=1.100",
)
