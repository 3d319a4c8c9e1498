"""Feeding the yeast: how much nitrogen a must wants, what supplies it, when, and the legal ceilings.

Figures of need are advice from grape must, widely quoted; honey must is poorer and less measured.
"""

from dataclasses import dataclass

from .gravity import brix_from_sg
from .limits import within
from .sulfite import Limit

DAP_NITROGEN_MG_PER_G = 1000 * 2 * 14.007 / 132.056  # diammonium phosphate, stoichiometry: 212.1
HONEY_MUST_MG_PER_L = 20.0  # honey must holds less than this; common practice
NEED_LADDER = ((21.0, 200.0), (23.0, 250.0), (25.0, 300.0), (27.0, 350.0))  # Brix, mg N/L
APPETITES = {"low": 0.7, "medium": 1.0, "high": 1.25}  # 140/200 and 250/200 of the ladder at 21 Brix
WATCH_MG_PER_L = 400.0  # more tastes harsh and feeds spoilage; common practice
TOO_MUCH_MG_PER_L = 500.0
LAST_FEED_ABV = 9.0  # yeast takes up little beyond; common practice
DAP_LIMITS = (
    Limit("OIV", "diammonium phosphate in must", 300, "OIV Code, annex of maximum acceptable limits"),
    Limit("US", "diammonium phosphate in wine", 960, "27 CFR 24.246; from memory"),
)
US_DAP_G_PER_L = 0.96
OIV_DAP_G_PER_L = 0.3


def nitrogen_need(brix: float, appetite: str = "medium") -> float:
    """Yeast-usable nitrogen a must of this sugar wants, in mg N/L.

    Range: 0 to 45 Brix; appetite low, medium or high; never more than 400.
    Errors: ValueError outside. Advice, not a measurement: minima half as large are quoted too.
    Formula: the ladder 21/23/25/27 Brix to 200/250/300/350, in proportion to sugar below 21, its
    slope kept above 27; times 0.7, 1 or 1.25 for the appetite (judgement).

    >>> round(nitrogen_need(25.0))
    300

    Source: Bisson and Butzke, Am. J. Enol. Vitic. 51 (2000) 168, as widely quoted.
    """
    within("must sugar", brix, 0, 45, "Brix")
    if appetite not in APPETITES:
        raise ValueError(f"yeast appetite is low, medium or high; got {appetite!r}")
    first_brix, first_need = NEED_LADDER[0]
    base = first_need * brix / first_brix if brix <= first_brix else first_need + 25 * (brix - first_brix)
    return min(WATCH_MG_PER_L, base * APPETITES[appetite])


def dose_g(nitrogen_mg_per_l: float, volume_l: float, nitrogen_mg_per_g: float = DAP_NITROGEN_MG_PER_G) -> float:
    """Nutrient that supplies so much nitrogen, in grams.

    Range: 0 to 600 mg N/L; 0 to 2000 L; nutrient of 1 to 470 mg N/g (urea, never used, is 466).
    Errors: ValueError outside.
    Formula: mg/L x L / (mg N/g).

    >>> dose_g(280, 3.785)
    5.0

    Source: mass balance; diammonium phosphate is 21.2 % nitrogen by formula weight.
    """
    within("nitrogen", nitrogen_mg_per_l, 0, 600, "mg/L")
    within("volume", volume_l, 0, 2000, "L")
    within("nutrient strength", nitrogen_mg_per_g, 1, 470, "mg nitrogen per gram")
    return nitrogen_mg_per_l * volume_l / nitrogen_mg_per_g


def sugar_breaks(start_sg: float) -> tuple[float, float]:
    """Gravities at which one third and two thirds of the gravity points are gone, as SG.

    Range: 1.000 to 1.200. Errors: ValueError outside.
    Formula: 1 + points x 2/3 and 1 + points / 3.

    >>> sugar_breaks(1.099)
    (1.066, 1.033)

    Source: common practice.
    """
    points = within("start gravity", start_sg, 1.0, 1.2, "SG") - 1
    return 1 + points * 2 / 3, 1 + points / 3


def last_feed_sg(start_sg: float) -> float:
    """Gravity below which food is no longer given, as SG: half the sugar gone or about 9 % vol made.

    Range: 1.000 to 1.200. Errors: ValueError outside.
    Formula: the higher of 1 + points/2 and start - 9/131.25.

    >>> last_feed_sg(1.110)
    1.055

    Source: common practice.
    """
    points = within("start gravity", start_sg, 1.0, 1.2, "SG") - 1
    return max(1 + points / 2, start_sg - LAST_FEED_ABV / 131.25)


@dataclass(frozen=True, slots=True)
class Feeding:
    """One dose: at an hour after pitching or when the gravity is met, whichever comes first."""

    hour: int | None
    at_sg: float | None
    dap_g: float
    other_g: float


@dataclass(frozen=True, slots=True)
class FeedPlan:
    """Nitrogen wanted and supplied, mg/L, the grams of each food, and when to give them."""

    need_mg_per_l: float
    add_mg_per_l: float
    dap_g: float
    dap_g_per_l: float
    other_g: float
    short_mg_per_l: float
    total_mg_per_l: float
    feedings: tuple[Feeding, ...]
    last_sg: float


def feed_plan(
    start_sg: float,
    volume_l: float,
    appetite: str = "medium",
    *,
    must_mg_per_l: float = HONEY_MUST_MG_PER_L,
    wanted_mg_per_l: float | None = None,
    dap_cap_g_per_l: float = US_DAP_G_PER_L,
    food_mg_per_g: float | None = None,
    by: str = "hours",
) -> FeedPlan:
    """The feeding of a must: grams of diammonium phosphate up to its cap, the rest as another food.

    Range: start 1.000 to 1.200 SG; 0 to 2000 L; must 0 to 600 mg/L; cap 0 to 2 g/L; food 1 to 470 mg N/g,
    None when there is none; by hours (24, 48, 72 and the one-third break) or by break (thirds of it).
    Errors: ValueError outside. What the cap leaves open without another food is short_mg_per_l.
    Formula: (wanted - must) x L, diammonium phosphate first, to its cap.

    >>> feed_plan(1.106, 3.785, wanted_mg_per_l=300, dap_cap_g_per_l=2.0).dap_g
    5.0

    Source: nitrogen_need; mass balance; schedule of common practice.
    """
    within("nitrogen in the must", must_mg_per_l, 0, 600, "mg/L")
    within("diammonium phosphate cap", dap_cap_g_per_l, 0, 2, "g/L")
    need = nitrogen_need(brix_from_sg(start_sg), appetite) if wanted_mg_per_l is None else wanted_mg_per_l
    within("nitrogen wanted", need, 0, 600, "mg/L")
    add = max(0.0, need - must_mg_per_l)
    from_dap = min(add, dap_cap_g_per_l * DAP_NITROGEN_MG_PER_G)
    dap = dose_g(from_dap, volume_l)
    open_mg_per_l = add - from_dap
    other = dose_g(open_mg_per_l, volume_l, food_mg_per_g) if food_mg_per_g else 0.0
    short = 0.0 if food_mg_per_g else open_mg_per_l
    feedings = _feedings(start_sg, dap, other, by)
    total = must_mg_per_l + add - short
    cap_used = from_dap / DAP_NITROGEN_MG_PER_G
    return FeedPlan(need, add, dap, cap_used, other, short, total, feedings, last_feed_sg(start_sg))


def _feedings(start_sg: float, dap_g: float, other_g: float, by: str) -> tuple[Feeding, ...]:
    third = sugar_breaks(start_sg)[0]
    points = start_sg - 1
    moments: dict[str, tuple[tuple[int | None, float | None], ...]] = {
        "hours": ((24, None), (48, None), (72, None), (None, third)),
        "break": ((24, None), (None, 1 + points * 8 / 9), (None, 1 + points * 7 / 9), (None, third)),
    }
    if by not in moments:
        raise ValueError(f"feeding goes by hours or by break; got {by!r}")
    parts = len(moments[by])
    return tuple(Feeding(hour, sg, dap_g / parts, other_g / parts) for hour, sg in moments[by])
