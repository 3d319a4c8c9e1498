"""It cools fast under an airlock, and will suck in what stands in it.

What it looks for
    A fall of five degrees or more within three days, shown by two temperatures of the must or by a move to a colder
    place, with an airlock on.

Why it matters
    The gas above the drink shrinks as it cools, and draws liquid and air in through the lock.

What to do
    While it cools, empty the lock and cover it with foil or cotton. Fill and refit it when the temperature stands.

Source
    The mechanism: physics and common practice, high confidence. The five degrees: judgement, low confidence.
"""

from datetime import timedelta

from mustwatch.rules.rule import FERMENTING_STAGES, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="cooling-under-lock",
    severity=Severity.WATCH,
    stages=FERMENTING_STAGES | {"ageing"},
    thresholds={"fall": Threshold(5.0, 2.0, 20.0, "°C", "a fall within three days that draws air in")},
)
DAYS = timedelta(days=3)


def check(view: View) -> Findings:
    """A finding while it cools under a lock."""
    batch = view.batch
    if batch.closing.kind != "airlock" or len(batch.temperatures) < 2:
        return
    if view.now - batch.temperatures[-1].at > DAYS:
        return
    recent = [t for t in batch.temperatures if view.now - t.at <= 2 * DAYS]
    must = [t for t in recent if not t.of_air]
    if not must:
        return
    warmest = max(must, key=lambda t: t.celsius)
    limit = warmest.celsius - RULE.number(view, "fall")
    moves = {event.id for event in batch.story if event.kind == "moved"}
    later = [t for t in recent if warmest.at < t.at <= warmest.at + 2 * DAYS]
    cold = [t for t in later if t.celsius <= limit and (not t.of_air or t.id in moves)]
    fast = cold and cold[0].at - warmest.at <= DAYS
    relaid = batch.closing.since is not None and cold and batch.closing.since >= cold[0].at
    if not fast or relaid or (len(cold) < 2 and cold[0].id not in moves):
        return
    yield RULE.found(
        view,
        Severity.WATCH,
        f"It cools under an airlock: {words.temperature(view, warmest.celsius)} on {words.date(view, warmest.at)},"
        f" {words.temperature(view, cold[-1].celsius)} on {words.date(view, cold[-1].at)}.",
        do=(
            "Empty the airlock and cover it with foil or cotton while it cools.",
            "Fill and refit it when the temperature stands. Then record it.",
        ),
        clears_when="the temperature stands for three days, or the airlock is refitted and recorded.",
        evidence=(warmest.id, cold[0].id, cold[-1].id),
        since=cold[0].at,
        missing=() if batch.closing.liquid else ("what stands in the airlock",),
        look_again=look_in(view, 1),
        action=("close", ""),
    )
