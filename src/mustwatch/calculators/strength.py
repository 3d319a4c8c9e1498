"""Alcohol, sugar left and attenuation from two gravities."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import strength as trade

from . import shown
from .form import Answer, Calculation, Field


def work(values: Mapping[str, Any]) -> Answer:
    start, present = values["start"], values["present"]
    spread = trade.alcohol_range(start, present)
    rule = trade.abv_rule_of_thumb(start, present)
    sugar = trade.residual_sugar_g_per_l(start, present)
    gone = trade.attenuation(start, present)
    result = {
        "abv": spread.best,
        "abv_low": spread.low,
        "abv_high": spread.high,
        "abv_rule_of_thumb": rule,
        "abv_by_points": trade.abv_by_points(start, present),
        "abv_by_balling": trade.abv_by_balling(start, present),
        "residual_sugar_g_per_l": sugar,
        "apparent_attenuation_pct": gone.apparent_pct,
        "real_attenuation_pct": gone.real_pct,
    }
    lines = (
        ("alcohol", shown.alcohol(spread.best)),
        ("fairly between", shown.alcohol_span(spread.low, spread.high)),
        ("rule of thumb", f"{shown.alcohol(max(0.0, rule))} (points x 0.13125)"),
        ("sugar left", f"up to {sugar:.0f} g/L, counting all extract as sugar"),
        ("gone by gravity", f"{gone.apparent_pct:.0f} % (by extract {gone.real_pct:.0f} %)"),
    )
    cautions = [
        "Judge a yeast's tolerance by the high figure and keeping by the low one. Sugar added on the way is not in it.",
        "A hydrometer cannot see 2 g/L of sugar: this says nothing about being safe to seal.",
    ]
    if present > start:
        cautions.insert(0, "The gravity rose: mix, correct for temperature and read again.")
    return Answer(result, lines, tuple(cautions))


CALCULATION = Calculation(
    name="strength",
    fields=(
        Field("start", "gravity", "Start gravity", "before the yeast"),
        Field("present", "gravity", "Gravity now", "now, corrected and without gas", sample="1.010"),
    ),
    work=work,
    method="mass balance: alcohol and true extract that together weigh what the sample weighs; rules of thumb beside",
    source="Balling's mass balance; OIV-MA-AS2-03B (Tabarie); OIML R 22; rules of thumb common practice",
    range="start 1.001 to 1.200, present 0.970 to 1.200; Balling's yield was found on beer",
    example="start=1.110 present=0.998",
)
