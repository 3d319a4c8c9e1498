"""Somebody felt dizzy or faint, or a flame went out, where ferments stand.

What it looks for
    A look of the last two days whose signs name it: dizzy, faint, light-headed, short of breath, bad air, or a candle
    that went out. A later look that names none of it ends it only after those two days.

Why it matters
    Carbon dioxide has no smell and gathers low down. Whoever feels it may faint at the next breath, and does not wake
    up where the air stays as it is. A flame that burns proves nothing: it goes out long after people are harmed.

What to do
    Leave the room and keep everybody out. Open doors and windows from outside. Never go in after somebody who fell:
    call the emergency services. Go in again only after an hour of moving air, and not alone.

Source
    30,000 ppm short-term limit, 40,000 ppm immediately dangerous to life: NIOSH pocket guide to chemical hazards,
    from memory, high confidence. Not to follow a fallen person in: rules for confined spaces, OSHA 29 CFR 1910.146,
    from memory, high confidence. Two days: judgement.
"""

from datetime import timedelta

from mustwatch.judgement.spoken import speaks
from mustwatch.ledger.events import Seen
from mustwatch.rules.rule import LIVING_STAGES, Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="bad-air-felt", severity=Severity.DANGER, stages=LIVING_STAGES)
FRESH = timedelta(days=2)


def check(view: View) -> Findings:
    """A finding for two days after somebody felt it."""
    felt = [seen for seen in view.batch.seen if view.now - seen.at < FRESH and _feels(view, seen)]
    if not felt:
        return
    last = felt[-1]
    place = view.batch.place or "the place where this batch stands"
    yield RULE.found(
        view,
        Severity.DANGER,
        f"Bad air was felt in {place} on {words.moment(view, last.at)}.",
        why="Carbon dioxide has no smell and gathers low down; people faint without warning and do not wake up.",
        do=(
            "Leave the room. Keep people and animals out.",
            "Open doors and windows from outside.",
            "Never go in after somebody who fell. Call the emergency services.",
            "Air it for an hour. Go in only while somebody watches from outside.",
        ),
        clears_when="two days have passed since it was felt last.",
        evidence=[seen.id for seen in felt],
        since=felt[0].at,
        missing=() if view.batch.place else ("where this batch stands",),
        look_again=look_in(view, 0.25),
    )


def _feels(view: View, seen: Seen) -> bool:
    said = "; ".join((*seen.signs, seen.note or "")).replace("-", " ").replace("_", " ")
    return bool(said) and speaks(view.batch, seen.at, said, "gas")
