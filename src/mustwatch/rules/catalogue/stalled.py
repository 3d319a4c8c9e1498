"""The ferment stands still, well above where it should end.

What it looks for
    A fall that the readings of the last three to seven days put below one gravity point a day, even when their
    error is counted in its favour; ten points or more above where its yeast should have come at least; four days or
    more after pitching, and with alcohol still short of what the yeast can bear. Two equal numbers are not enough,
    unless they lie two weeks apart. It is said as a thing to
    watch first, and as a thing for today once readings on two days agree. It stays until the readings show that it
    truly moves again: a fall surely not of chance that may well be faster than a point and a half a day, or two
    readings three points lower.

Why it matters
    A ferment that stands still gets harder to move with every day, and sugar that is left can start again later, in
    the bottle.

What to do
    Look at the must's temperature, its pH, its food and its alcohol, in that order. Bring it slowly to the middle
    of the yeast's range and rouse the lees gently. Read daily for five days. Do not rack it, which takes the yeast
    away, and do not just add more yeast.

Source
    The limit of one point a day with its error: simulated reading noise of one point, medium confidence. Published
    limits of one or two days bracket it: home-wine handbooks and common practice, medium confidence.
"""

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.cellar.ending import STALL_ABOVE
from mustwatch.judgement.motion import STALL_FALL
from mustwatch.judgement.state import HOLD_MARGIN, Verdict
from mustwatch.judgement.window import ONE_SIDED
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
    explains=(
        "sluggish",
        "must-too-cold",
        "must-too-sour",
        "temperature-swing",
        "reading-overdue",
        "long-on-gross-lees",
        "stronger-than-yeast",
    ),
)


def check(view: View) -> Findings:
    """A finding when the ferment stands still too high; one that was found stays until a reading shows a true fall."""
    latest = view.batch.latest
    if view.verdict.state == "stalled" and latest is not None:
        yield _finding(view, latest)


def _finding(view: View, latest: Reading) -> Finding:
    batch, verdict = view.batch, view.verdict
    severity = Severity.TODAY if verdict.confirmed else Severity.WATCH
    since = f" since {words.date(view, verdict.since)}" if verdict.since else ""
    return RULE.found(
        view,
        severity,
        f"Stalled{since}: {_fall_in_words(verdict)}. It read"
        f" {words.gravity(view, latest.sg)} on {words.date(view, latest.at)},"
        f" {words.points(verdict.points_to_go or 0.0)} above {words.gravity(view, verdict.least_end or 1.0)},"
        " where its yeast should have come at least.",
        do=_advice(view),
        clears_when="two readings lie three points lower, or they show a fair fall.",
        evidence=verdict.evidence,
        since=verdict.since,
        missing=(*verdict.missing, *_missing(batch)),
        look_again=look_in(view, 1),
        action=("log", ""),
    )


def _fall_in_words(verdict: Verdict) -> str:
    fall = verdict.fall or 0.0
    how = f"it fell by {fall:.1f} points a day" if fall >= 0.05 else "it did not fall"
    doubt = ONE_SIDED * (verdict.fall_error or 0.0)
    return f"{how} over {verdict.window_days or 0:.0f} days, give or take {doubt:.1f} points a day"


def _advice(view: View) -> tuple[str, ...]:
    steps = [_temperature_step(view)]
    if view.batch.latest_measure("ph") is None:
        steps.append("Measure its pH; below 3.2 the acid may be what holds it.")
    steps.append("Rouse the lees gently and read it daily for five days. Do not rack it, and do not just add yeast.")
    if not view.verdict.confirmed:
        steps.insert(0, "Read it again on another day: one more reading decides.")
    return tuple(steps)


def _temperature_step(view: View) -> str:
    batch = view.batch
    must = [t for t in batch.temperatures if not t.of_air]
    if batch.yeast is None:
        return "Measure the must's temperature and bring it slowly to the middle of the yeast's range."
    middle = words.temperature(view, (batch.yeast.low_c + batch.yeast.high_c) / 2)
    if not must:
        return f"Measure the must's temperature, and bring it slowly to about {middle}."
    stands = f"The must last read {words.temperature(view, must[-1].celsius)}"
    if must[-1].celsius < batch.yeast.low_c:
        return f"{stands}, below this yeast's range: warm it slowly to about {middle}."
    if must[-1].celsius > batch.yeast.high_c:
        return f"{stands}, above this yeast's range: cool it slowly to about {middle}."
    return f"{stands}, within this yeast's range: bring it slowly to about {middle}."


def _missing(batch: Batch) -> tuple[str, ...]:
    missing = []
    if not any(not t.of_air for t in batch.temperatures):
        missing.append("the must's temperature")
    if batch.latest_measure("ph") is None:
        missing.append("pH")
    return tuple(missing)
