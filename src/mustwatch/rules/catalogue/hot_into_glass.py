"""Hot must in a glass vessel.

What it looks for
    A must warmer than 40 °C on record, within the last twelve hours, in a jug, a carboy or a vessel whose kind is
    not recorded.

Why it matters
    Glass that is not made for heat cracks without warning when hot liquid goes in, or when a hot jug meets
    something cold. Hands and arms have been cut to the bone. Yeast dies at about the same heat.

What to do
    Do not touch or lift it. Let it cool where it stands, away from draughts, on wood or cloth. Next time mix in a
    bucket or a pot and let it cool first.

Source
    Severe injuries on record, common practice, high confidence. Heat-proof glass is another matter, when it is
    stated to be.
"""

from datetime import timedelta

from mustwatch.rules.evidence.latch import Sample, held_above
from mustwatch.rules.evidence.vessel import in_glass
from mustwatch.rules.rule import Findings, Rule, Severity, Threshold, View, words

RULE = Rule(
    name="hot-into-glass",
    severity=Severity.DANGER,
    thresholds={"limit": Threshold(40.0, 30.0, 60.0, "°C", "hotter than this does not go into glass")},
    explains=("must-too-warm",),
)
FRESH = timedelta(hours=12)


def check(view: View) -> Findings:
    """A finding while hot must stands in glass."""
    batch = view.batch
    last = batch.temperatures[-1] if batch.temperatures else None
    if last is None or view.now - last.at > FRESH or not in_glass(batch):
        return
    limit = RULE.number(view, "limit")
    held = held_above(
        [Sample(t.at, t.celsius, t.id) for t in batch.temperatures[-6:] if not t.of_air], limit, limit - 3
    )
    if held is None or view.now - held.last.at > FRESH:
        return
    kind = f"a {batch.vessel_kind}" if batch.vessel_kind else "a vessel that may be glass"
    yield RULE.found(
        view,
        Severity.DANGER,
        f"The must stood at {words.temperature(view, held.last.value)} in {kind} on {words.date(view, held.last.at)}.",
        why="Glass that is not made for heat cracks without warning, and cuts deep.",
        do=(
            "Do not touch or lift the vessel. Keep everybody away from it.",
            "Let it cool where it stands, away from draughts. Put nothing cold against it.",
            "Next time mix in a bucket or pot. Fill glass below body warmth.",
        ),
        clears_when="the must reads cooler, or half a day has gone by.",
        evidence=held.ids,
        since=held.since,
        missing=() if batch.vessel_kind else (RULE.cannot_judge("kind of vessel", "glass not made for heat"),),
        look_again=view.now + timedelta(hours=2),
    )
