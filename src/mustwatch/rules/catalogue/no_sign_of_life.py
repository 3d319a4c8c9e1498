"""Yeast was pitched, and nothing shows that it works.

What it looks for
    Two days after pitching, and again after four, without a fall of three gravity points, without foam, a ring or
    rafts on the surface, and without bubbles. A still airlock alone proves nothing, so a reading is asked for.

Why it matters
    A must that waits for its yeast is open to everything else: wild yeast, vinegar, mould.

What to do
    Take a reading first. If it has not fallen, look at the must's temperature and at the age of the yeast, bring
    the must into the yeast's range and stir air in. If there is still nothing, pitch fresh yeast, rehydrated as its
    maker says. Juice that holds a preservative will never start.

Source
    Six to forty-eight hours are usual, ninety-six too long: common practice, medium confidence. Less than three
    points is within the noise of two readings: high confidence.
"""

from datetime import timedelta

from mustwatch.cellar.batch import Reading
from mustwatch.ledger.events import Pitched
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="no-sign-of-life",
    severity=Severity.TODAY,
    stages=frozenset({"lag"}),
    thresholds={
        "watch": Threshold(48.0, 24.0, 96.0, "hours", "after this long it is a thing to watch"),
        "today": Threshold(96.0, 48.0, 240.0, "hours", "after this long something has to be done"),
    },
    explains=("reading-overdue",),
)


def check(view: View) -> Findings:
    """A finding when the lag has lasted too long."""
    batch = view.batch
    pitched = batch.recorded_pitches[-1] if batch.recorded_pitches else None
    if pitched is None:
        return
    hours = (view.now - pitched.at) / timedelta(hours=1)
    if hours < RULE.number(view, "watch"):
        return
    late = hours >= RULE.number(view, "today")
    since_pitch = [reading for reading in batch.good_readings if reading.at > pitched.at]
    yield _finding(view, pitched, since_pitch[-1] if since_pitch else None, late)


def _finding(view: View, pitched: Pitched, reading: Reading | None, late: bool) -> Finding:
    batch = view.batch
    read = f", last read {words.gravity(view, reading.sg)} on {words.date(view, reading.at)}" if reading else ""
    missing = [] if reading else ["a gravity reading since pitching; a still airlock proves nothing"]
    if batch.start_sg is None:
        missing.append("start gravity, so a fall cannot be measured")
    must = [t for t in batch.temperatures if not t.of_air]
    if not must:
        missing.append("the must's temperature")
    return RULE.found(
        view,
        Severity.TODAY if late else Severity.WATCH,
        f"No sign of life for {words.age(view, pitched.at)}, pitched on {words.date(view, pitched.at)}{read}.",
        do=_advice(view, reading is not None, late),
        clears_when="gravity falls by three points, or foam, a ring or bubbles are seen.",
        evidence=(pitched.id, batch.start.id if batch.start else None, reading.id if reading else None),
        since=pitched.at,
        missing=tuple(missing),
        look_again=look_in(view, 1),
        action=("pitch", "") if late and reading else ("log", ""),
    )


def _advice(view: View, has_reading: bool, late: bool) -> tuple[str, ...]:
    yeast = view.batch.yeast
    span = f" ({words.temperature(view, yeast.low_c)} to {words.temperature(view, yeast.high_c)})" if yeast else ""
    first = () if has_reading else ("Take a gravity reading, with its temperature.",)
    warm = f"Bring the must within the yeast's range{span}. Stir air into it."
    if not late:
        return (*first, warm)
    return (*first, warm, "If gravity has not fallen, pitch fresh yeast, rehydrated as its maker says.")
