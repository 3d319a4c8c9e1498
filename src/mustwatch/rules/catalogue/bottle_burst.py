"""A bottle burst, or its cap lifted: the whole lot is suspect.

What it looks for
    Bottles taken off the shelf because they burst, a look or a note that names a burst, popped, weeping, domed or
    lifted closure, or a still bottle that gushed when it was opened. A bottle noted as broken, without a word on
    how, is asked about for thirty days.

Why it matters
    All bottles of a lot hold the same drink. One may have been flawed; nobody can tell which of the others is next.

What to do
    Keep everybody away until eyes, face and hands are covered. Chill the bottles where they lie if you can, cover
    them with a thick blanket or a closed box. Open them cold, one by one, covered with a cloth. Give none of them
    away.

Source
    Common practice, high confidence.
"""

import re
from datetime import datetime, timedelta

from mustwatch.judgement.bottlings import at_bottling
from mustwatch.ledger.events import Event, Noted, Seen, Took
from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, View, look_in, words

RULE = Rule(
    name="bottle-burst",
    severity=Severity.DANGER,
    stages=frozenset({"bottled"}),
    explains=("bottled-sweet", "bottled-before-stable", "over-the-bottle", "bottles-in-warmth", "no-witness-bottle"),
)
BURST = re.compile(
    r"\b(burst(?:s|ing)?|popped|explod\w+|explosions?|shattered|blew|blown|weeping|lifted|pushed out|domed|bulging"
    r"|swollen)\b",
    re.I,
)
BOTTLE = re.compile(r"\b(bottles?|corks?|caps?|crowns?|lids?|glass|shelf|crate|box|one|two|three)\b", re.IGNORECASE)
DROPPED = re.compile(r"\b(dropped|fell|fallen|knocked|slipped|tipped|smashed)\b", re.IGNORECASE)
GUSHED = re.compile(r"\b(gush(?:ed|es|ing|er)?|fountain|foamed over|sprayed)\b", re.IGNORECASE)
QUIET_DAYS = 30.0


def check(view: View) -> Findings:
    """A finding when a bottle of what is left has burst."""
    batch = view.batch
    if at_bottling(batch) is None:
        return
    still = all(event.style != "sparkling" and event.priming is None for event in batch.bottlings)
    bursts = [event for event in batch.story if event.at >= batch.bottlings[0].at and _is_burst(event, still)]
    if not bursts:
        if (broken := _may_have_burst(view)) is not None:
            yield _asked(view, broken)
        return
    count = sum(getattr(event, "count", 1) for event in bursts)
    calm = _opened_since(view, bursts[-1].at)
    left = f" {batch.bottles_left} are left." if batch.bottles_left > 0 else ""
    yield RULE.found(
        view,
        Severity.WATCH if calm else Severity.DANGER,
        f"{count} bottle{'' if count == 1 else 's'} of this lot burst, lifted or gushed, last on"
        f" {words.date(view, bursts[-1].at)}.{left}",
        do=(
            "Keep everybody away until eyes, face and hands are covered.",
            "Chill them where they lie, or cover them with a thick blanket or a closed box.",
            "Open them cold, one by one under a cloth, and give none away.",
        ),
        clears_when="no bottle is left.",
        evidence=tuple(event.id for event in bursts),
        since=bursts[-1].at,
        missing=() if batch.bottles_made else ("how many bottles there are",),
        look_again=look_in(view, 1),
        action=("log", ""),
    )


def _is_burst(event: Event, still: bool) -> bool:
    if isinstance(event, Took):
        # A still drink that gushes tells of the same pressure as a lifted cap.
        return bool(event.burst) or (still and says(event.note or "", GUSHED))
    if isinstance(event, Seen):
        return says(" ".join((*event.signs, event.note or "")), BURST)
    if isinstance(event, Noted) and event.note:
        # A note may speak of a burst of flavour.
        return says(event.note, BURST) and BOTTLE.search(event.note) is not None
    return False


def _may_have_burst(view: View) -> Event | None:
    """The last bottle noted as broken that nobody says burst or was dropped, while that is fresh."""
    return next(
        (
            event
            for event in reversed(view.batch.story)
            if type(event) is Took
            and event.why == "broken"
            and event.burst is None
            and not says(event.note or "", DROPPED)
            and view.now - event.at < timedelta(days=QUIET_DAYS)
        ),
        None,
    )


def _asked(view: View, broken: Event) -> Finding:
    return RULE.found(
        view,
        Severity.WATCH,
        f"A bottle of this lot was broken on {words.date(view, broken.at)}, and how is not recorded.",
        why="A bottle that was dropped tells nothing; one that burst makes the whole lot suspect.",
        do=(
            "If it burst by itself, write that down, and keep everybody away from the others.",
            "If it was dropped, say so in a note of that entry.",
        ),
        clears_when="the entry says whether it burst, or thirty days have passed.",
        evidence=(broken.id,),
        since=broken.at,
        missing=(RULE.cannot_judge("whether it burst or was dropped", "a lot under pressure"),),
        look_again=look_in(view, 1),
        action=("log", ""),
    )


def _opened_since(view: View, burst: datetime) -> bool:
    """Whether a bottle was opened and drunk a month or more after the last burst."""
    return any(
        type(event) is Took and event.why in ("drunk", "tested") and event.at - burst >= timedelta(days=QUIET_DAYS)
        for event in view.batch.story
    )
