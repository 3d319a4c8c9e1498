"""Sugar for bubbles, and whether the bottle bears it."""

from collections.abc import Mapping
from typing import Any

from mustwatch.said.figures import degrees
from mustwatch.trade import carbonation, pressure
from mustwatch.trade.root import crossing

from . import shown
from .form import Answer, Calculation, Field

CHECKED_C = (20.0, 30.0, 35.0)
GLASS = (
    "Glass under pressure can burst: weigh the sugar, use only bottles rated for it, new or unscratched, in a closed "
    "crate away from warmth, one plastic or gauge bottle in each lot as witness."
)


def work(values: Mapping[str, Any]) -> Answer:
    kind = values["sugar"]
    grams_per_l = carbonation.priming_sugar(values["volumes"], values["warmest"], kind)
    residual = carbonation.residual_volumes(values["warmest"])
    reached = carbonation.volumes_to_reach(grams_per_l, kind, values["warmest"], values["above_dry"])
    bars = {temp_c: pressure.gauge_bar(reached, temp_c, values["alcohol"]) for temp_c in CHECKED_C}
    bottle = _judged(values, reached, bars)
    result = {
        "sugar_g": grams_per_l * values["volume"],
        "sugar_g_per_l": grams_per_l,
        "residual_volumes": residual,
        "volumes_reached": reached,
        "gauge_bar_20c": bars[20.0],
        "gauge_bar_30c": bars[30.0],
        "gauge_bar_35c": bars[35.0],
        **bottle,
        "abv_gain": grams_per_l * carbonation.co2_share(kind) / 44.0095 * 46.068 / 7.8924,
        "rule_of_thumb_glucose_g_per_l": max(0.0, values["volumes"] - residual) * carbonation.GLUCOSE_GRAMS_PER_VOLUME,
    }
    lines = (
        (f"{kind}", f"{shown.grams(result['sugar_g'])} in all ({grams_per_l:.1f} g/L)"),
        ("gas already in it", f"{residual:.2f} volumes"),
        ("gas in the end", f"{reached:.1f} volumes"),
        ("pressure", ", ".join(f"{bars[temp_c]:.1f} bar at {degrees(temp_c)}" for temp_c in CHECKED_C)),
        ("bottle's rating", shown.bar(bottle["bottle_rating_bar"]) if bottle["bottle_rating_bar"] else "none known"),
        ("verdict", _verdict(bottle)),
    )
    return Answer(result, lines, _cautions(values, bottle))


def _judged(values: Mapping[str, Any], reached: float, bars: Mapping[float, float]) -> dict[str, Any]:
    """The rating of the bottle, whether it bears the gas at 30 °C, and up to which temperature it does."""
    rating_bar = pressure.bottle_rating_bar(values["bottle"], values["rating"])
    rating_volumes = pressure.bottle_rating_volumes(values["bottle"], values["rating"])
    rated_by_volumes = values["bottle"] in pressure.RATING_VOLUMES and values["rating"] is None
    too_gassy = rated_by_volumes and reached > rating_volumes + 1e-6
    unfit = rating_bar == 0 or too_gassy or bars[20.0] > rating_bar + 1e-6
    return {
        "bottle_rating_bar": rating_bar,
        "bottle_rating_volumes": rating_volumes,
        "within_rating": not unfit and bars[30.0] <= rating_bar + 1e-6,
        "fit_for_it": not unfit,
        "holds_to_c": None if unfit else _holds_to_c(reached, values["alcohol"], rating_bar),
    }


def _holds_to_c(volumes: float, abv: float, rating_bar: float) -> float:
    """The warmest, in C, at which the pressure is still within the rating; 50 at most."""
    return crossing(lambda temp_c: pressure.gauge_bar(volumes, temp_c, abv) - rating_bar, 15.0, 50.0)


def _verdict(bottle: Mapping[str, Any]) -> str:
    if not bottle["fit_for_it"]:
        return "NOT in this bottle"
    if bottle["holds_to_c"] >= CHECKED_C[-1]:
        return f"within its rating up to {degrees(CHECKED_C[-1])}"
    return f"only kept below {degrees(round(bottle['holds_to_c']))}: over its rating beyond"


def _cautions(values: Mapping[str, Any], bottle: Mapping[str, Any]) -> tuple[str, ...]:
    cautions = []
    if bottle["bottle_rating_bar"] == 0:
        why = pressure.RATING_SOURCE[values["bottle"]]
        cautions.append(f"DANGER: a bottle of kind {values['bottle']}: {why}. Do not prime into it: it can burst.")
    elif not bottle["fit_for_it"]:
        cautions.append("DANGER: more gas than this bottle bears. Less sugar, or bottles made for sparkling wine.")
    elif not bottle["within_rating"]:
        cautions.append("Over its rating when warm: a hot room or car can burst it. Less sugar, or a stronger bottle.")
    if values["above_dry"] > 0:
        cautions.append(f"{values['above_dry']:g} points above dry may still ferment: half a volume each, counted in.")
    else:
        cautions.append("Counts the mead as dry: every point of gravity still to ferment adds half a volume.")
    if values["stabilised"] is not False:
        cautions.append("Sulfite or sorbate in it, or not known: it may stay flat, or fizz late. Do not prime then.")
    cautions.append(GLASS)
    return tuple(cautions)


CALCULATION = Calculation(
    name="prime",
    fields=(
        Field("volume", "volume", "Volume", "how much is bottled"),
        Field(
            "volumes",
            "number",
            "Carbonation",
            "wanted: 2 to 2.5 lively, 4 to 5 as sparkling wine",
            unit="volumes",
            sample="2.4",
        ),
        Field("warmest", "temperature", "Warmest since", "the warmest it has been since fermentation ended"),
        Field("sugar", "choice", "Sugar", "what is weighed", "sucrose", choices=tuple(carbonation.CO2_SHARE)),
        Field("bottle", "choice", "Bottle", "its kind", "other", choices=pressure.BOTTLE_KINDS),
        Field("rating", "pressure", "Rated", "the maker's working pressure, if known", optional=True),
        Field("above_dry", "number", "Above dry", "gravity that may still ferment", default="0", unit="points"),
        Field("alcohol", "alcohol", "Alcohol", "% vol; more alcohol holds less gas", default="12"),
        Field("stabilised", "flag", "Stabilised", "sulfite or sorbate added", default="unknown"),
    ),
    work=work,
    method="(wanted - residual) x 1.977 g/L / CO2 share of the sugar; pressure by Henry's law",
    source="IAPWS Henry constant; EC 2676/90 ch. 37; stoichiometry; bottle ratings common practice",
    range="0 to 8 volumes, 0 to 40 °C; pressures read high, up to a fifth when warm",
    example="volume=19L volumes=2.4 warmest=20C sugar=glucose bottle=beer",
)
