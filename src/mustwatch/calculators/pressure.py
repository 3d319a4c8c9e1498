"""A closed vessel: bar now, at the end, and how long until it is too much."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import pressure as trade
from mustwatch.trade.carbonation import GRAMS_PER_POINT

from . import shown
from .form import Answer, Calculation, Field

VENT = (
    "If it is closed now and may still ferment: eye protection, thick towel, open it slowly or move it behind a "
    "barrier, then fit an airlock. Never lift or carry it by the neck."
)


def work(values: Mapping[str, Any]) -> Answer:
    points = _points(values)
    limit = trade.bottle_rating_bar(values["vessel"], values["rating"])
    headspace_l = values["headspace"]
    vessel = trade.closed_vessel(
        liquid_l=values["liquid"],
        headspace_l=headspace_l,
        temp_c=values["warmest"],
        points_left=points,
        sugar_left_g_per_l=values["sugar"],
        points_made=values["made"],
        points_per_day=values["rate"],
        abv=values["alcohol"],
        sealed_at_c=values["sealed_at"],
        air_in_headspace=values["air"] is not False,
        limit_bar=limit,
    )
    gas_g = values["liquid"] * (points * GRAMS_PER_POINT + values["sugar"] * 0.4886)
    result = {
        "now_bar": vessel.now_bar,
        "end_bar": vessel.end_bar,
        "limit_bar": limit,
        "passes_limit": vessel.passes_limit,
        "hours_to_limit": vessel.hours_to_limit,
        "points_left": points,
        "co2_to_come_g": gas_g,
    }
    lines = (
        ("now", shown.bar(vessel.now_bar)),
        ("when all is fermented", shown.bar(vessel.end_bar)),
        ("limit", shown.bar(limit) if limit else f"none: {trade.RATING_SOURCE[values['vessel']]}"),
        ("limit passed", _when(vessel)),
        ("gas still to come", f"{shown.grams(gas_g)} CO2"),
    )
    return Answer(result, lines, _cautions(values, vessel))


def _points(values: Mapping[str, Any]) -> float:
    if values["left"] is not None:
        return values["left"]
    if values["present"] is None:
        raise ValueError("give what is left in points, or the present gravity (and end, the gravity of dryness)")
    return max(0.0, (values["present"] - values["end"]) * 1000)


def _when(vessel: trade.ClosedVessel) -> str:
    if not vessel.passes_limit:
        return "not by this sugar at this temperature"
    if vessel.hours_to_limit is None:
        return "yes; when is not known without the present rate"
    if vessel.hours_to_limit < 1:
        return "already, or within the hour"
    days = vessel.hours_to_limit / 24
    return f"in about {vessel.hours_to_limit:.0f} hours" if days < 3 else f"in about {days:.0f} days"


def _cautions(values: Mapping[str, Any], vessel: trade.ClosedVessel) -> tuple[str, ...]:
    cautions = []
    if vessel.passes_limit:
        cautions.append(f"DANGER: do not keep it closed. {VENT}")
    elif vessel.end_bar > 0.1:
        cautions.append("Within its rating by this reckoning; scratched or reused glass bears less.")
    if values["rate"] is None:
        cautions.append("No rate is given, so no hours: treat it as the worst.")
    cautions.append("A gravity of one point is the reading error itself and half a volume of gas.")
    cautions.append("CO2 fills closed rooms unseen: air a cupboard or cellar before you go in.")
    return tuple(cautions)


CALCULATION = Calculation(
    name="pressure",
    fields=(
        Field("liquid", "volume", "Liquid", "how much is in it"),
        Field("headspace", "room", "Headspace", "room above it"),
        Field("warmest", "temperature", "Warmest", "the warmest it will stand"),
        Field(
            "present", "gravity", "Gravity now", "present gravity (or give what is left)", optional=True, sample="1.010"
        ),
        Field("end", "gravity", "Ends at", "gravity it may fall to", default="0.995"),
        Field("left", "number", "Left", "gravity still to fall", optional=True, unit="points", sample="5"),
        Field("sugar", "number", "Sugar added", "sugar beside that, honey or priming", default="0", unit="g/L"),
        Field("made", "number", "Fallen since", "gravity fallen since it was closed", default="0", unit="points"),
        Field("rate", "number", "Rate", "present fall of gravity", optional=True, unit="points a day", sample="1"),
        Field("vessel", "choice", "Vessel", "its kind", default="jug", choices=trade.BOTTLE_KINDS),
        Field("rating", "pressure", "Rated", "the maker's working pressure, if known", optional=True),
        Field("alcohol", "alcohol", "Alcohol", "% vol now", default="12"),
        Field("sealed_at", "temperature", "Closed at", "temperature when it was closed", optional=True),
        Field("air", "flag", "Air above", "was the headspace air, not fermentation gas", default="no"),
    ),
    work=work,
    method="CO2 shut in and still to be made shared between liquid (Henry's law) and headspace (ideal gas)",
    source="IAPWS Henry constant; EC 2676/90 ch. 37; stoichiometry; ratings as named",
    range="0 to 50 °C, to 200 points, 2000 L; reads high, up to a fifth when warm",
    example='liquid="1 US gal" headspace=200ml warmest=25C present=1.010 rate=1',
)
