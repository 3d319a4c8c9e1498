"""Hot must in a glass vessel.

What it looks for
    A must warmer than 40 °C on record, or a look that calls it boiling or hot, within the last twelve hours, in a
    jug, a carboy or a vessel whose kind is not recorded.

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

from datetime import datetime, timedelta
from typing import NamedTuple

from mustwatch.judgement.spoken import speaks
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


class _Hot(NamedTuple):
    """Hot must: what is said of it, what tells, since when."""

    said: str
    evidence: tuple[str, ...]
    since: datetime


def check(view: View) -> Findings:
    """A finding while hot must stands in glass."""
    batch = view.batch
    hot = (_measured(view) or _looked(view)) if in_glass(batch) else None
    if hot is None:
        return
    kind = f"a {batch.vessel_kind}" if batch.vessel_kind else "a vessel that may be glass"
    yield RULE.found(
        view,
        Severity.DANGER,
        f"The must {hot.said} in {kind} on {words.date(view, hot.since)}.",
        why="Glass that is not made for heat cracks without warning, and cuts deep.",
        do=(
            "Do not touch or lift the vessel. Keep everybody away from it.",
            "Let it cool where it stands, away from draughts. Put nothing cold against it.",
            "Next time mix in a bucket or pot. Fill glass below body warmth.",
        ),
        clears_when="the must reads cooler, or half a day has gone by.",
        evidence=hot.evidence,
        since=hot.since,
        missing=() if batch.vessel_kind else (RULE.cannot_judge("kind of vessel", "glass not made for heat"),),
        look_again=view.now + timedelta(hours=2),
    )


def _measured(view: View) -> _Hot | None:
    temperatures = view.batch.temperatures
    if not temperatures or view.now - temperatures[-1].at > FRESH:
        return None
    limit = RULE.number(view, "limit")
    samples = [Sample(t.at, t.celsius, t.id) for t in temperatures[-6:] if not t.of_air]
    held = held_above(samples, limit, limit - 3)
    if held is None or view.now - held.last.at > FRESH:
        return None
    return _Hot(f"stood at {words.temperature(view, held.last.value)}", held.ids, held.since)


def _looked(view: View) -> _Hot | None:
    """A look of the last hours whose words call it hot, and no cooler reading since."""
    batch, limit = view.batch, RULE.number(view, "limit")
    for seen in reversed(batch.seen):
        if view.now - seen.at > FRESH:
            return None
        said = "; ".join((*seen.signs, seen.note or "")).strip()
        cooler = any(t.at > seen.at and not t.of_air and t.celsius <= limit for t in batch.temperatures)
        if said and not cooler and speaks(batch, seen.at, said, "hot"):
            return _Hot("was seen hot", (seen.id,), seen.at)
    return None
