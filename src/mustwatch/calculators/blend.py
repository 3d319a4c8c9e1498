"""Two lots put together."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import blend as trade

from .form import Answer, Calculation, Field
from .lots import lines_of, lot, lot_fields, values_of


def work(values: Mapping[str, Any]) -> Answer:
    first, second = lot(values), lot(values, "2")
    after = trade.blend([first, second])
    stronger = first if first.abv >= second.abv else second
    cautions = list(trade.cautions(stronger, after, None))
    if values["stabilised"] is not True and max(first.sg, second.sg) > 1.0:
        cautions.insert(
            0,
            "If one lot has sugar and the other live yeast, it starts again: keep the blend under an airlock "
            "and read it after a week or more. Never seal it before: glass can burst.",
        )
    return Answer(values_of(after), tuple(lines_of(after)), tuple(cautions))


CALCULATION = Calculation(
    name="blend",
    fields=(
        *lot_fields(words="the first lot"),
        *lot_fields("2", "the second lot"),
        Field("stabilised", "flag", "Stabilised", "both lots, sulfite and sorbate", default="unknown"),
    ),
    work=work,
    method="masses of alcohol, extract and SO2 add up; the volume is what weighs what they weigh",
    source="mass balance with OIV-MA-AS2-03B (Tabarie), OIML R 22, ICUMSA SPS-4",
    range="gravities 0.970 to 1.200, to 25 % vol",
    example="volume=3L gravity=1.000 alcohol=14 volume2=1L gravity2=1.040 alcohol2=10",
)
