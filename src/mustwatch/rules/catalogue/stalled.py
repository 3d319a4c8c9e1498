"""The ferment has stalled, well above where it should end.

What it looks for
    A fall that the readings of the last three to seven days put below one gravity point a day, even when their
    error is counted in its favour; ten points or more above where its yeast should have come at least; four days or
    more after pitching, and with alcohol still short of what the yeast can bear. Two equal numbers are not enough,
    unless they lie two weeks apart. It is said as a thing to watch first, and as a thing for today once readings on
    two days agree. It stays until the readings show that it truly moves again: a fall surely not of chance that may
    well be faster than a point and a half a day, or two readings three points lower. It names the likely causes
    that are on record: cold or heat, a pH below 3.2, no food, strength, age.

Why it matters
    A stalled ferment gets harder to move with every day. Sugar that is left can start again later, in the bottle.

What to do
    Look at the must's temperature, its pH, its food and its alcohol, in that order. Warm a cold must slowly to the
    middle of the yeast's range. Never cool one that is within its range. Rouse the lees gently. Read daily for five
    days. Do not rack it: that takes the yeast away. Do not pour dry yeast in: it dies of the alcohol. If it has not
    fallen after five days, restart it: see restart-a-stall.

Source
    The limit of one point a day with its error: simulated reading noise of one point, medium confidence. Published
    limits of one or two days bracket it: home-wine handbooks and common practice, medium confidence. The causes and
    their order: enology textbooks and common practice, medium confidence. pH 3.2, and two weeks after which age
    counts: common practice, low confidence.
"""

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.cellar.ending import STALL_ABOVE
from mustwatch.judgement.motion import STALL_FALL
from mustwatch.judgement.state import HOLD_MARGIN, Verdict
from mustwatch.judgement.window import ONE_SIDED
from mustwatch.rules.evidence.food import past_feeding
from mustwatch.rules.evidence.stall import causes, has_aged, is_hungry, sour_ph
from mustwatch.rules.evidence.warmth import must_temperature, warmth_step
from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="stalled",
    severity=Severity.TODAY,
    stages=FERMENTING_STAGES | {"ageing"},
    thresholds={
        "fall": Threshold(STALL_FALL, 0.3, 2.0, "points a day", "a fall surely slower than this is none"),
        "above": Threshold(STALL_ABOVE, 5.0, 30.0, "points", "so far above the least end it counts as a stall"),
        "margin": Threshold(HOLD_MARGIN, 0.1, 2.0, "points a day", "so much faster a fall ends the finding"),
    },
    # What may have caused it keeps its own line: it is what must be mended.
    explains=("sluggish", "reading-overdue", "long-on-gross-lees"),
)


def check(view: View) -> Findings:
    """A finding when the ferment has stalled; one that was found stays until a reading shows a true fall."""
    latest = view.batch.latest
    if view.verdict.state == "stalled" and latest is not None:
        yield _finding(view, latest)


def _finding(view: View, latest: Reading) -> Finding:
    batch, verdict = view.batch, view.verdict
    severity = Severity.TODAY if verdict.confirmed else Severity.WATCH
    seems = "Stalled" if verdict.confirmed else "It seems stalled"
    since = f" since {words.date(view, verdict.since)}" if verdict.since else ""
    return RULE.found(
        view,
        severity,
        f"{seems}{since}. It read {words.gravity(view, latest.sg)} on {words.date(view, latest.at)},"
        f" {words.points(verdict.points_to_go or 0.0)} above {words.gravity(view, verdict.least_end or 1.0)},"
        f" where its yeast should have come at least. {_fall_in_words(verdict)} {_causes_in_words(view)}",
        do=_advice(view),
        clears_when="two readings lie three points lower, or readings show a steady fall.",
        evidence=verdict.evidence,
        since=verdict.since,
        missing=(*verdict.missing, *_missing(batch)),
        look_again=look_in(view, 1),
        action=("log", ""),
    )


def _fall_in_words(verdict: Verdict) -> str:
    fall = verdict.fall or 0.0
    how = f"It fell by {fall:.1f} points a day" if fall >= 0.05 else "It did not fall"
    doubt = ONE_SIDED * (verdict.fall_error or 0.0)
    window = f"the {verdict.window_days or 0:.0f} days of its last readings"
    return f"{how} over {window}, give or take {doubt:.1f} points a day."


def _causes_in_words(view: View) -> str:
    found = causes(view)
    if len(found) > 1:
        return f"Likely causes on record, the likeliest first: {', '.join(found)}."
    return f"Likely cause on record: {found[0]}." if found else "No cause is on record."


def _advice(view: View) -> tuple[str, ...]:
    read_first = () if view.verdict.confirmed else ("Read the gravity again on another day first.",)
    return (
        *read_first,
        warmth_step(view),
        *_acid_step(view),
        *_food_step(view),
        "Rouse the lees gently, then read the gravity daily for five days.",
        "Do not rack it. Do not pour dry yeast into it.",
        *_restart_step(view),
    )


def _acid_step(view: View) -> tuple[str, ...]:
    ph = view.batch.latest_measure("ph")
    if ph is None:
        return ("Measure the pH. Below 3.2 the acid may hold the yeast back.",)
    if sour_ph(view) is None:
        return ()
    return ("Measure the pH again. If it is still so low, raise it in small steps with potassium carbonate.",)


def _food_step(view: View) -> tuple[str, ...]:
    if not is_hungry(view):
        return ()
    if past_feeding(view.batch):
        return ("Give only food made of dead yeast: it takes up no other now.",)
    return ("Dissolve yeast food in a little must, and add it slowly.",)


def _restart_step(view: View) -> tuple[str, ...]:
    if not view.verdict.confirmed:
        return ()
    when = "It has stalled for long" if has_aged(view) else "If it does not fall in five days"
    return (f"{when}: restart it as the page restart-a-stall shows.",)


def _missing(batch: Batch) -> tuple[str, ...]:
    missing = []
    if must_temperature(batch) is None:
        missing.append("the must's temperature")
    if batch.latest_measure("ph") is None:
        missing.append("pH")
    return tuple(missing)
