"""Honey or sugar after the ferment."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import blend as trade
from mustwatch.trade.library import INGREDIENTS

from . import shown
from .form import Answer, Calculation, Field
from .lots import lines_of, lot, lot_fields, values_of

SWEETENERS = ("honey", "sugar", "dextrose", "maple-syrup", "apple-juice-concentrate")


def work(values: Mapping[str, Any]) -> Answer:
    before, added, target = lot(values), values["add"], values["target"]
    if (added is None) == (target is None):
        raise ValueError("give a target gravity, or how much to add, one of the two")
    sweetener = INGREDIENTS[values["with"]]
    composition = (sweetener.sugar_pct, sweetener.water_pct)
    if added is not None:
        after = trade.sweeten(before, added, *composition)
    else:
        after = trade.sweeten_to(before, target, *composition)
    result = {
        "added_kg": after.added_kg,
        **values_of(after.lot),
        "sugar_added_g_per_l": after.sugar_g_per_l,
        "gas_volumes_if_fermented": after.gas_volumes,
    }
    lines = [
        (f"{sweetener.name} to add", shown.kilograms(after.added_kg)),
        *lines_of(after.lot),
        ("sugar added", f"{after.sugar_g_per_l:.0f} g/L"),
        ("gas it could make", f"{after.gas_volumes:.1f} volumes if live yeast eats it"),
    ]
    cautions = trade.cautions(before, after.lot, values["stabilised"], after.gas_volumes)
    return Answer(result, tuple(lines), (*cautions, "Try it in a measured glass first: you can add, never take out."))


CALCULATION = Calculation(
    name="sweeten",
    fields=(
        *lot_fields(),
        Field("target", "gravity", "Sweeten to", "gravity wanted (or give what to add)", optional=True),
        Field("add", "mass", "Add", "how much to add (or give the target)", optional=True),
        Field("with", "choice", "With", "what it is sweetened with", default="honey", choices=SWEETENERS),
        Field("stabilised", "flag", "Stabilised", "sulfite and sorbate both in, and it was stable", default="unknown"),
    ),
    work=work,
    method="masses of alcohol, sugar and SO2 add up; the addition's own volume is counted",
    source="mass balance with OIV-MA-AS2-03B (Tabarie), OIML R 22, ICUMSA SPS-4",
    range="gravities 0.970 to 1.150, to 25 % vol",
    example="volume=4.5L gravity=0.998 alcohol=13 target=1.015",
)
