"""Nitrogen for the yeast."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import nitrogen as trade

from . import shown
from .form import Answer, Calculation, Field

CAPS = {"us": trade.US_DAP_G_PER_L, "oiv": trade.OIV_DAP_G_PER_L}


def work(values: Mapping[str, Any]) -> Answer:
    cap = CAPS[values["limit"]]
    plan = trade.feed_plan(
        values["start"],
        values["volume"],
        values["appetite"],
        must_mg_per_l=values["must"],
        wanted_mg_per_l=values["wanted"],
        dap_cap_g_per_l=cap,
        food_mg_per_g=values["food"],
        by=values["by"],
    )
    result = {
        "need_mg_per_l": plan.need_mg_per_l,
        "add_mg_per_l": plan.add_mg_per_l,
        "dap_g": plan.dap_g,
        "dap_g_per_l": plan.dap_g_per_l,
        "food_g": plan.other_g,
        "short_mg_per_l": plan.short_mg_per_l,
        "total_mg_per_l": plan.total_mg_per_l,
        "one_third_break_sg": trade.sugar_breaks(values["start"])[0],
        "two_thirds_break_sg": trade.sugar_breaks(values["start"])[1],
        "last_feed_sg": plan.last_sg,
        "feedings": [
            {"hour": step.hour, "at_sg": step.at_sg, "dap_g": step.dap_g, "food_g": step.other_g}
            for step in plan.feedings
        ],
    }
    return Answer(result, _lines(plan, result, values["food"]), _cautions(plan, cap, values["limit"]))


def _lines(plan: trade.FeedPlan, result: Mapping[str, Any], food: float | None) -> tuple[tuple[str, str], ...]:
    lines = [
        ("nitrogen wanted", f"{shown.mg_per_l(plan.need_mg_per_l)}, {shown.mg_per_l(plan.add_mg_per_l)} to add"),
        ("diammonium phosphate", f"{shown.grams(plan.dap_g)} in all ({plan.dap_g_per_l:.2f} g/L)"),
    ]
    if food:
        lines.append(("other food", f"{shown.grams(plan.other_g)} in all"))
    for number, step in enumerate(plan.feedings, 1):
        when = (
            f"{step.hour} hours after pitching"
            if step.hour or step.at_sg is None
            else f"when it reads {shown.sg(step.at_sg)}"
        )
        both = f" + {shown.grams(step.other_g)} food" if food else ""
        lines.append((f"dose {number}", f"{shown.grams(step.dap_g)}{both}, {when}"))
    lines.append(("one-third break", shown.sg(result["one_third_break_sg"])))
    lines.append(("nothing below", shown.sg(plan.last_sg)))
    return tuple(lines)


def _cautions(plan: trade.FeedPlan, cap: float, limit: str) -> tuple[str, ...]:
    whose = {"us": "0.96 g/L, US wine (27 CFR 24.246, from memory)", "oiv": "0.3 g/L (OIV Code)"}[limit]
    cautions = [f"Diammonium phosphate is held to {whose}. Your own law counts: check it."]
    if plan.short_mg_per_l > 0.5:
        cautions.insert(
            0,
            f"Short by {plan.short_mg_per_l:.0f} mg/L at that limit: give another food for the rest "
            "(food=, the nitrogen on its packet in mg/g), never more of the salt.",
        )
    if plan.total_mg_per_l > trade.WATCH_MG_PER_L - 0.5:
        cautions.append("At 400 mg/L and over food is left behind: harsh taste, haze, spoilage.")
    cautions += shown.fine_scale(*(step.dap_g for step in plan.feedings), *(step.other_g for step in plan.feedings))
    cautions.append("Degas before powder goes in, or dissolve it in a cup first: a gassy must shoots up.")
    cautions.append("Nothing after half the sugar or about 9 % vol: it is not taken up and feeds spoilage.")
    return tuple(cautions)


CALCULATION = Calculation(
    name="feed",
    fields=(
        Field("start", "gravity", "Start gravity", "before the yeast"),
        Field("volume", "volume", "Volume", "of the must"),
        Field("appetite", "choice", "Yeast appetite", "as its maker says", "medium", choices=("low", "medium", "high")),
        Field("must", "number", "In the must", "nitrogen it has; honey under 20, juice more", "20", unit="mg/L"),
        Field(
            "wanted",
            "number",
            "Wanted",
            "nitrogen wanted, instead of the ladder",
            optional=True,
            unit="mg/L",
            sample="250",
        ),
        Field("limit", "choice", "Limit", "ceiling on the phosphate", "us", choices=("us", "oiv")),
        Field("food", "number", "Other food", "its nitrogen by the packet", optional=True, unit="mg/g"),
        Field(
            "by",
            "choice",
            "Schedule",
            "hours 24, 48, 72 and the break; or by the break",
            "hours",
            False,
            ("hours", "break"),
        ),
    ),
    work=work,
    method="need by sugar and appetite less what the must has; diammonium phosphate (21.2 % N) to its ceiling first",
    source="Bisson and Butzke, AJEV 51 (2000) 168, as widely quoted; stoichiometry; schedule common practice",
    range="start 1.000 to 1.200; advice from grape must, honey is measured less",
    example='start=1.106 volume="1 US gal" wanted=300 food=40',
)
