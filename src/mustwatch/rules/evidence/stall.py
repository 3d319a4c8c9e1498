"""Why a must may have stalled, as far as its record tells."""

from datetime import timedelta

from mustwatch.rules import words
from mustwatch.rules.evidence.food import feedings, only_honey
from mustwatch.rules.evidence.warmth import must_temperature
from mustwatch.rules.view import View

SOUR_PH = 3.2  # below it a must is too sour for many yeasts: common practice
STRONG_SG = 1.120  # a start from 25 % of sugar on: Jackson, Wine Science
AGED = timedelta(days=14)  # of standing, after which much of the yeast is dead or settled: common practice


def causes(view: View) -> tuple[str, ...]:
    """The likely causes on record: warmth, sourness, lack of food, strength, age; the likeliest first."""
    found = (_warmth(view), _sourness(view), _hunger(view), _strength(view), _age(view))
    return tuple(cause for cause in found if cause)


def has_aged(view: View) -> bool:
    """Whether it has stalled for two weeks or more."""
    return view.verdict.since is not None and view.now - view.verdict.since >= AGED


def sour_ph(view: View) -> float | None:
    """The newest pH where that is below what this cellar calls too sour, else None."""
    ph = view.batch.latest_measure("ph")
    limit = view.settings.threshold("must-too-sour", "watch", SOUR_PH)
    return ph.value if ph is not None and ph.value < limit else None


def is_hungry(view: View) -> bool:
    """Whether it is a must of honey alone, and no food for its yeast is on record."""
    return only_honey(view.batch) and not feedings(view.batch)


def _warmth(view: View) -> str:
    taken, yeast = must_temperature(view.batch), view.batch.yeast
    if taken is None or yeast is None or yeast.low_c <= taken.celsius <= yeast.high_c:
        return ""
    return f"{'cold' if taken.celsius < yeast.low_c else 'heat'} ({words.temperature(view, taken.celsius)})"


def _sourness(view: View) -> str:
    ph = sour_ph(view)
    limit = view.settings.threshold("must-too-sour", "watch", SOUR_PH)
    return f"low pH ({words.acidity(ph, limit)})" if ph is not None else ""


def _hunger(view: View) -> str:
    return "no yeast food on record" if is_hungry(view) else ""


def _strength(view: View) -> str:
    start, made, yeast = view.batch.whole_start_sg, view.verdict.made_alcohol, view.batch.yeast
    limit = view.settings.threshold("must-too-strong", "watch", STRONG_SG)
    if made is not None and yeast is not None and made.high >= yeast.tolerance_low:
        return f"strength (about {made.best:.0f} % vol made)"
    return f"strength (began at {words.gravity(view, start)})" if start is not None and start > limit else ""


def _age(view: View) -> str:
    since = view.verdict.since
    return f"age (stalled for {words.age(view, since)})" if since is not None and has_aged(view) else ""
