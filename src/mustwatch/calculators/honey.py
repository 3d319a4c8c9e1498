"""How much honey for a gravity or a strength."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import honey as trade
from mustwatch.trade.strength import potential_abv

from . import shown
from .form import Answer, Calculation, Field


def work(values: Mapping[str, Any]) -> Answer:
    target, abv, volume_l, moisture = (values[name] for name in ("target", "alcohol", "volume", "moisture"))
    if (target is None) == (abv is None):
        raise ValueError("give a target gravity or an alcohol, one of the two")
    if abv is not None:
        need = trade.honey_for_strength(abv, volume_l, values["end"], moisture)
    else:
        need = trade.honey_for_gravity(target, volume_l, moisture)
    result = {
        "honey_kg": need.honey_kg,
        "honey_l": need.honey_l,
        "water_l": need.water_kg / 0.998203,
        "sg": need.sg,
        "potential_abv": potential_abv(need.sg),
    }
    lines = (
        ("honey", shown.kilograms(need.honey_kg)),
        ("its own volume", shown.litres(need.honey_l)),
        ("water, about", shown.litres(result["water_l"])),
        ("start gravity", shown.sg(need.sg)),
        ("if it ends dry", shown.alcohol(result["potential_abv"])),
    )
    cautions = ["Make it up to the volume, mix well and read it: honeys differ, allow 10 points either way."]
    if need.sg > 1.120:
        cautions.append(f"A start of {shown.sg(need.sg)} strains most yeast: feed part of the honey in later.")
    cautions.append("Never pour hot liquid into a glass jug, and keep honey from infants under 12 months.")
    return Answer(result, lines, tuple(cautions))


CALCULATION = Calculation(
    name="honey",
    fields=(
        Field("volume", "volume", "Finished must", "how much must it is to be, all told"),
        Field("target", "gravity", "Target gravity", "start gravity wanted (or give the alcohol)", optional=True),
        Field("alcohol", "alcohol", "Alcohol", "% vol wanted (or give the target)", optional=True),
        Field("end", "gravity", "Ends at", "gravity it is to end at, with the alcohol", default="0.998"),
        Field("moisture", "number", "Moisture", "water in the honey", default="17.2", unit="%"),
    ),
    work=work,
    method="honey x (100 - moisture) = must x Brix, by mass; strength by the mass balance of alcohol",
    source="NBS C440; honey density White 1975; composition USDA Bulletin 1261",
    range="targets 1.000 to 1.200, moisture 13 to 25 %, to 20 % vol",
    example='volume="5 US gal" target=1.100',
)
