"""Sulfite for the pH."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import sulfite as trade

from . import shown
from .form import Answer, Calculation, Field

ALLERGY = (
    "Sulfite sets off asthma and allergy in some people: do not breathe the dust, and label every bottle "
    "(from 10 mg/L the law asks for it). Never mix it with bleach or with strong acid."
)


def work(values: Mapping[str, Any]) -> Answer:
    dose = trade.sulfite_dose(
        values["ph"],
        values["volume"],
        values["free"] or 0.0,
        values["total"] or 0.0,
        values["molecular"],
        values["alcohol"],
        values["temp"],
    )
    share = trade.molecular_share(values["ph"])
    result = {
        "free_needed_mg_per_l": dose.free_target_mg_per_l,
        "free_needed_oiv_mg_per_l": dose.oiv_free_target_mg_per_l,
        "molecular_share": share,
        "molecular_now_mg_per_l": (values["free"] or 0.0) * share,
        "add_mg_per_l": dose.add_mg_per_l,
        "metabisulfite_g": dose.salt_g,
        "metabisulfite_if_half_binds_g": dose.salt_if_half_binds_g,
        "total_after_mg_per_l": dose.total_after_mg_per_l,
        "total_if_half_binds_mg_per_l": dose.total_if_half_binds_mg_per_l,
        "limits": [
            {"where": limit.where, "what": limit.what, "mg_per_l": limit.mg_per_l, "source": limit.source}
            for limit in trade.TOTAL_SO2_LIMITS
        ],
    }
    lines = [
        ("free SO2 needed", f"{shown.mg_per_l(dose.free_target_mg_per_l)} at pH {values['ph']:.2f}"),
        ("to add", f"{shown.mg_per_l(dose.add_mg_per_l)} of SO2"),
        ("metabisulfite", f"{shown.grams(dose.salt_g)} of the potassium salt"),
        ("if half binds", f"{shown.grams(dose.salt_if_half_binds_g)}, never at once"),
        ("total after", f"{shown.mg_per_l(dose.total_after_mg_per_l)} or more"),
    ]
    if dose.oiv_free_target_mg_per_l is not None:
        lines.append(("by the OIV table", f"{shown.mg_per_l(dose.oiv_free_target_mg_per_l)} free would do"))
    return Answer(result, tuple(lines), _cautions(values, dose))


def _cautions(values: Mapping[str, Any], dose: trade.SulfiteDose) -> tuple[str, ...]:
    cautions = []
    passed = [limit for limit in trade.TOTAL_SO2_LIMITS if dose.total_after_mg_per_l > limit.mg_per_l]
    if passed:
        named = "; ".join(f"{limit.where} {limit.what} {limit.mg_per_l:g}" for limit in passed)
        cautions.append(f"The total would pass legal limits (mg/L): {named}. Do not add it: lower the pH instead.")
    if values["free"] is None or values["total"] is None:
        cautions.append("Free or total SO2 is not given and counts as 0: earlier doses are not in this. Measure first.")
    if dose.free_target_mg_per_l > 50:
        cautions.append("Over 50 mg/L free is smelt and tasted: at this pH acid helps more than sulfite.")
    if dose.add_mg_per_l > 150:
        cautions.append("More than 150 mg/L at once is seldom right: check the volume and the unit.")
    cautions += shown.fine_scale(dose.salt_g)
    cautions.append("A quarter to a half binds: add, wait a day, measure the free SO2, add the rest.")
    cautions.append(ALLERGY)
    cautions.append("Total SO2 is limited by law: EU mead 200 (from memory), US 350, OIV 150 to 300 mg/L. Check yours.")
    return tuple(cautions)


CALCULATION = Calculation(
    name="sulfite",
    fields=(
        Field("volume", "volume", "Volume", "how much is to be dosed"),
        Field("ph", "number", "pH", "measured with a meter; there is no dose without it", sample="3.4"),
        Field("free", "number", "Free SO2", "free now", optional=True, unit="mg/L"),
        Field("total", "number", "Total SO2", "total now, all doses together", optional=True, unit="mg/L"),
        Field("molecular", "number", "Molecular", "wanted: 0.8 sweet or white, 0.5 dry", default="0.8", unit="mg/L"),
        Field("alcohol", "alcohol", "Alcohol", "for the OIV figure beside it", optional=True),
        Field("temp", "temperature", "Temperature", "for the OIV figure, 20 to 40 °C", optional=True),
    ),
    work=work,
    method="free = molecular x (1 + 10^(pH - 1.81)); metabisulfite is 57.6 % SO2; the OIV pK beside it",
    source="Univ. of California Coop. Extension, Enology Briefs 1 (1982); OIV-MA-AS323-04C; stoichiometry",
    range="pH 2.5 to 5.0; 0.1 to 2 mg/L molecular; OIV figure 0 to 20 % vol, 20 to 40 °C",
    example="volume=3.785L ph=3.5 free=0 total=0",
)
