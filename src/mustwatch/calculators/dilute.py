"""Water into a must or a mead."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import blend as trade
from mustwatch.trade.root import crossing

from . import shown
from .form import Answer, Calculation, Field
from .lots import lines_of, lot, lot_fields, values_of


def work(values: Mapping[str, Any]) -> Answer:
    before = lot(values)
    water_l = _water(before, values)
    after = trade.dilute(before, water_l)
    result = {"water_l": water_l, **values_of(after)}
    cautions = (
        *trade.cautions(before, after, None),
        "Boil and cool the water, or de-aerate it: tap water brings air and chlorine.",
    )
    return Answer(result, (("water to add", shown.litres(water_l)), *lines_of(after)), cautions)


def _water(before: trade.Lot, values: Mapping[str, Any]) -> float:
    water_l, target, abv, final_l = (values[name] for name in ("water", "target", "strength", "final"))
    if sum(value is not None for value in (water_l, target, abv, final_l)) != 1:
        raise ValueError("give one of water, target, strength or final")
    if water_l is not None:
        return water_l
    if final_l is not None:
        if final_l < before.volume_l:
            raise ValueError(f"final must be at least the volume, {shown.litres(before.volume_l)}, got {final_l:g}")
        return crossing(lambda w: trade.dilute(before, w).volume_l - final_l, 0.0, final_l * 1.1)
    if target is not None:
        _between("target", target, before.sg)
        return crossing(lambda w: trade.dilute(before, w).sg - target, 0.0, 100 * before.volume_l)
    if not 0.1 <= abv <= before.abv:
        raise ValueError(f"strength must be 0.1 to {before.abv:g} % vol, got {abv:g}")
    return crossing(lambda w: trade.dilute(before, w).abv - abv, 0.0, 300 * before.volume_l)


def _between(name: str, target: float, sg: float) -> None:
    low, high = min(sg, 1.0), max(sg, 1.0)
    if not low <= target <= high or abs(target - 1.0) < 2e-4:
        raise ValueError(f"{name} must lie between {shown.sg(low)} and {shown.sg(high)}, got {target:g}")


CALCULATION = Calculation(
    name="dilute",
    fields=(
        *lot_fields(),
        Field("target", "gravity", "Dilute to", "gravity wanted", optional=True),
        Field("strength", "alcohol", "Strength", "% vol wanted", optional=True),
        Field("final", "volume", "Made up to", "volume wanted", optional=True),
        Field("water", "room", "Water", "water to add", optional=True),
    ),
    work=work,
    method="blend with water: masses of alcohol, sugar and SO2 add up",
    source="mass balance with OIV-MA-AS2-03B (Tabarie), OIML R 22, ICUMSA SPS-4",
    range="gravities 0.970 to 1.200, to 25 % vol",
    example='volume="4.5 US gal" gravity=1.075 final="5 US gal"',
)
