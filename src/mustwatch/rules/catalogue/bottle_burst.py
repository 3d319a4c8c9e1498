"""A bottle burst, or its cap lifted: the whole lot is suspect.

What it looks for
    Bottles taken off the shelf because they burst, a look that names a burst, popped, weeping, domed or lifted
    closure, or a still bottle that gushed when it was opened. A bottle noted as broken, without a word on how, is
    asked about until it is answered. Two such bottles within thirty days count as burst.

Why it matters
    All bottles of a lot hold the same drink. One may have been flawed; nobody can tell which of the others is next.

What to do
    Keep everybody away until eyes, face and hands are covered. Cover the bottles where they lie with a thick blanket,
    and chill the room if you can. Move them only covered and cold, with gloves and a face shield: a warm bottle
    that is lifted can burst in the hand. Open them cold, one by one, covered with a cloth. Give none of them away.

Source
    Common practice, high confidence.
"""

import re
from collections.abc import Sequence
from datetime import timedelta

from mustwatch.judgement.bottlings import at_bottling
from mustwatch.judgement.gassy import is_still, opened_well_since
from mustwatch.ledger.events import Event, Seen, Took
from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.rule import Findings, Rule, Severity, View, look_in, words

RULE = Rule(
    name="bottle-burst",
    severity=Severity.DANGER,
    stages=frozenset({"bottled"}),
    explains=(
        "still-bottle-gassy",
        "bottle-reads-low",
        "bottled-sweet",
        "bottled-before-stable",
        "over-the-bottle",
        "bottles-in-warmth",
        "no-witness-bottle",
    ),
)
BURST = re.compile(
    r"\b(burst(?:s|ing)?|popped|explod\w+|explosions?|shattered|blew|blown|weeping|lifted|pushed out|domed|bulging"
    r"|swollen)\b",
    re.I,
)
DROPPED = re.compile(r"\b(dropped|fell|fallen|knocked|slipped|tipped|smashed)\b", re.IGNORECASE)
GUSHED = re.compile(r"\b(gush(?:ed|es|ing|er)?|fountain|foamed over|sprayed)\b", re.IGNORECASE)
MONTH_DAYS = 30.0  # common practice: two of a lot that go so close together go for one reason


def check(view: View) -> Findings:
    """A finding when a bottle of what is left has burst."""
    batch = view.batch
    if at_bottling(batch) is None:
        return
    still = all(is_still(event) for event in batch.on_shelf)
    bursts = [event for event in batch.story if event.at >= batch.on_shelf[0].at and _is_burst(event, still)]
    if not bursts:
        yield from _asked(view)
        return
    count = sum(getattr(event, "count", 1) for event in bursts)
    calm = opened_well_since(view.batch, bursts[-1])
    left = f" {batch.bottles_left} are left." if batch.bottles_left > 0 else ""
    yield RULE.found(
        view,
        Severity.WATCH if calm else Severity.DANGER,
        f"{count} bottle{'' if count == 1 else 's'} of this lot burst, lifted or gushed, last on"
        f" {words.date(view, bursts[-1].at)}.{left}",
        do=(
            "Keep everybody away until eyes, face and hands are covered.",
            "Cover the bottles where they lie with a thick blanket. Chill the room if you can.",
            "Move them only covered and cold, with gloves and a face shield.",
            "Open them cold, one by one under a cloth. Give none away.",
        ),
        clears_when="no bottle is left.",
        evidence=tuple(event.id for event in bursts),
        since=bursts[-1].at,
        missing=() if batch.bottles_made else ("how many bottles there are",),
        look_again=look_in(view, 1),
    )


def _is_burst(event: Event, still: bool) -> bool:
    if isinstance(event, Took):
        # A still drink that gushes tells of the same pressure as a lifted cap.
        return bool(event.burst) or (still and says(event.note or "", GUSHED))
    if isinstance(event, Seen):
        return says(" ".join((*event.signs, event.note or "")), BURST)
    return False


def _asked(view: View) -> Findings:
    """What is asked of bottles that broke, and nobody says how: two in a month are no accident until somebody does."""
    since = view.batch.on_shelf[0].at
    took = [event for event in view.batch.story if isinstance(event, Took) and event.at >= since]
    broken = [event for event in took if _may_have_burst(event)]
    if not broken:
        return
    last = broken[-1]
    month = max((_broken_from(broken, place) for place in range(len(broken))), key=_count)
    several = _count(month) > 1
    if several:
        severity = Severity.WATCH if opened_well_since(view.batch, month[-1]) else Severity.DANGER
        says = f"{_count(month)} bottles of this lot broke within a month, last on {words.date(view, month[-1].at)}"
    else:
        severity = Severity.TODAY
        says = f"A bottle of this lot was broken on {words.date(view, last.at)}"
    yield RULE.found(
        view,
        severity,
        f"{says}, and how is not recorded: did it burst, or was it dropped?",
        why="A bottle that was dropped tells nothing; one that burst makes the whole lot suspect.",
        do=(
            *(("Keep everybody away until you know: cover the lot where it lies.",) if several else ()),
            "If it burst by itself, correct the entry. Keep everybody away from the others.",
            "If it was dropped, correct the entry: it did not burst.",
        ),
        clears_when="the entry says whether it burst.",
        evidence=tuple(event.id for event in (month if several else broken)),
        since=month[-1].at if several else last.at,
        missing=(RULE.cannot_judge("whether it burst or was dropped", "a lot under pressure"),),
        look_again=look_in(view, 1),
    )


def _may_have_burst(event: Took) -> bool:
    return event.why == "broken" and event.burst is None and not says(event.note or "", DROPPED)


def _broken_from(broken: Sequence[Took], place: int) -> list[Took]:
    """The bottles that broke within a month of one of them, from it on."""
    month = timedelta(days=MONTH_DAYS)
    return [event for event in broken[place:] if event.at - broken[place].at <= month]


def _count(broken: Sequence[Took]) -> int:
    return sum(event.count for event in broken)
