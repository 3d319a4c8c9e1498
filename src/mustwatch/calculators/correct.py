"""A hydrometer reading brought to 20 °C."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade.temperature import corrected_on_own_scale, corrected_sg, corrected_sg_with_alcohol

from . import shown
from .form import HOUSE, Answer, Calculation, Field


def work(values: Mapping[str, Any]) -> Answer:
    reading, sample_c, glass_c, abv = (values[name] for name in ("reading", "sample", "glass", "alcohol"))
    cautions = []
    glass_c = values[HOUSE].hydrometer_c if glass_c is None else glass_c
    made_for = 20.0 if glass_c is None else glass_c
    if glass_c is None:
        other = _corrected(reading, sample_c, 15.56, abv)
        cautions.append(
            "The hydrometer is taken as made for 20 °C (68 °F)."
            f" If it says 60 °F inside, the answer is {shown.sg(other)}: look."
        )
    if abs(sample_c - made_for) > 10:
        cautions.append("More than 10 °C away from its own temperature a hydrometer reads poorly: cool the sample.")
    cautions.append("Shake out the gas first: bubbles lift the float and it reads high.")
    corrected = _corrected(reading, sample_c, made_for, abv)
    own_sg = corrected if abv else corrected_on_own_scale(reading, sample_c, made_for)
    result = {
        "sg": corrected,
        "own_scale_sg": own_sg,
        "points": (corrected - 1) * 1000,
        "correction_points": (corrected - reading) * 1000,
    }
    lines = (
        ("corrected", f"{shown.sg(corrected, digits=4)}, so {shown.sg(corrected)} at 20 °C"),
        ("on its own scale", f"{shown.sg(own_sg, digits=4)}, as printed tables give it for such a hydrometer"),
        ("correction", f"{(corrected - reading) * 1000:+.1f} points"),
    )
    return Answer(result, lines, tuple(cautions))


def _corrected(reading: float, sample_c: float, glass_c: float, abv: float) -> float:
    if abv:
        return corrected_sg_with_alcohol(reading, sample_c, glass_c, abv)
    return corrected_sg(reading, sample_c, glass_c)


CALCULATION = Calculation(
    name="correct",
    fields=(
        Field("reading", "gravity", "Reading", "what the glass shows"),
        Field("sample", "temperature", "Sample at", "temperature of the sample"),
        Field(
            "glass", "temperature", "Glass made for", "printed inside it: 15C, 60F or 20C", optional=True, sample="60F"
        ),
        Field("alcohol", "alcohol", "Alcohol", "% vol in the sample, once it has fermented", default="0"),
    ),
    work=work,
    method="the sugar whose solution, at that temperature and in that swollen glass, shows the reading",
    source="ICUMSA SPS-4 sucrose density; OIML R 22 for alcohol; glass expansion 25e-6 per degree",
    range="readings 0.970 to 1.200, samples 0 to 45 °C (40 with alcohol), hydrometers for 15 to 25 °C",
    example="reading=1.080 sample=95F glass=60F",
)
