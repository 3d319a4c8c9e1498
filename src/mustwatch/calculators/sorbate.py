"""Sorbate by alcohol and pH, and when not to."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import sorbate as trade

from . import shown
from .form import Answer, Calculation, Field


def work(values: Mapping[str, Any]) -> Answer:
    dose = trade.sorbate_dose(values["alcohol"], values["ph"])
    acid = trade.sorbic_acid(dose)
    total_g = dose * values["volume"] / 1000
    facts = {name: values[name] for name in ("stable", "sulfited", "malolactic")}
    against = trade.reasons_against(
        **facts, will_prime=values["prime"] is True, fruit_acids=values["fruit"] is True, ph=values["ph"]
    )
    result = {
        "sorbate_g": total_g,
        "sorbate_mg_per_l": dose,
        "sorbic_acid_mg_per_l": acid,
        "most_eu_mg_per_l": trade.most_sorbate(200),
        "most_us_mg_per_l": trade.most_sorbate(300),
        "not_now": list(against),
    }
    lines = [
        ("potassium sorbate", f"{shown.grams(total_g)} ({shown.mg_per_l(dose)})"),
        ("as sorbic acid", shown.mg_per_l(acid)),
        ("use it", "not yet, or not at all: see below" if against else "with sulfite for the pH"),
    ]
    cautions = [f"Do not add it: {reason}." for reason in against]
    cautions += [
        f"Over the limit of {limit.where}, {limit.mg_per_l:g} mg/L sorbic acid: leave it dry or keep it cold."
        for limit in trade.SORBIC_LIMITS
        if acid > limit.mg_per_l
    ]
    cautions += shown.fine_scale(total_g)
    cautions.append("Sulfite goes in with it: sorbate alone and lactic bacteria make geranium taint, for good.")
    cautions.append("Limits: 200 mg/L sorbic acid in the EU (268 of the salt), 300 in the US. Check your own law.")
    return Answer(result, tuple(lines), tuple(cautions))


CALCULATION = Calculation(
    name="sorbate",
    fields=(
        Field("volume", "volume", "Volume", "how much is to be dosed"),
        Field("alcohol", "alcohol", "Alcohol", "% vol, the low estimate"),
        Field("ph", "number", "pH", "measured", sample="3.3"),
        Field("stable", "flag", "Stable", "two readings a week or more apart agree", default="unknown"),
        Field("sulfited", "flag", "Sulfited", "sulfite for the pH is in or goes in now", default="unknown"),
        Field("malolactic", "flag", "Malolactic", "a malolactic culture or taste", default="unknown"),
        Field("fruit", "flag", "Apple or grape", "apple or grape in the must", default="unknown"),
        Field("prime", "flag", "To be primed", "is it to sparkle by its own yeast", default="no"),
    ),
    work=work,
    method="30 x mL/L of the table, between its alcohols and pH; beyond 14 % and pH 3.1 its edge",
    source="Underhill, Making Better Wines, sorbate table; limits EU 1333/2008, OIV II.3.4.5, US as quoted",
    range="10 to 25 % vol and pH 2.5 to 3.5; refused outside, where no dose can be relied on",
    example="volume=19L alcohol=12 ph=3.3 stable=yes sulfited=yes malolactic=no",
)
