"""Air was beaten into it after it no longer wants any.

What it looks for
    An aeration in the last week, more than four days after pitching, or after two readings agree that a third of
    the sugar was gone. Swirling and degassing are no aeration.

Why it matters
    Early air builds strong yeast; late air stales the drink and feeds vinegar bacteria.

What to do
    From now on swirl gently, under the airlock, and rack without splashing.

Source
    To the third of the sugar, or about three days: common practice, medium confidence.
"""

from datetime import timedelta

from mustwatch.rules.evidence.food import share_left_for_sure
from mustwatch.rules.rule import FERMENTING_STAGES, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="aired-too-late",
    severity=Severity.WATCH,
    stages=FERMENTING_STAGES | {"ageing"},
    thresholds={
        "hours": Threshold(96.0, 24.0, 240.0, "hours", "from pitching; later air does harm"),
        "days": Threshold(7.0, 1.0, 30.0, "days", "from the aeration; after that it is no longer said"),
    },
)
THIRD_GONE = 2 / 3 - 0.03  # three hundredths for the noise of the glass


def check(view: View) -> Findings:
    """A finding for the newest aeration that came too late."""
    batch = view.batch
    pitched = batch.recorded_pitches[-1] if batch.recorded_pitches else None
    if pitched is None:
        return
    since = view.now - timedelta(days=RULE.number(view, "days"))
    aired = next((event for event in reversed(batch.story) if event.kind == "aerated" or event.at <= since), None)
    if aired is None or aired.at <= since:
        return
    late = aired.at - pitched.at > timedelta(hours=RULE.number(view, "hours"))
    left = share_left_for_sure(batch, aired.at)
    if not (late or (left is not None and left < THIRD_GONE)):
        return
    yield RULE.found(
        view,
        Severity.WATCH,
        f"Aerated on {words.date(view, aired.at)}, {words.span(aired.at - pitched.at)} after pitching"
        + (f", with {max(0.0, left) * 100:.0f} % of the sugar left." if left is not None else "."),
        do=("From now on swirl gently, under the airlock, and rack without splashing.",),
        clears_when="a week has gone by without more air.",
        evidence=(pitched.id, aired.id),
        since=aired.at,
        missing=() if left is not None else ("two gravity readings, to say how much sugar was left",),
        look_again=look_in(view, 3),
        action=("note", ""),
    )
