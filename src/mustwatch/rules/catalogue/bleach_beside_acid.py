"""Bleach is used beside sulfite or acid, or went into the drink.

What it looks for
    In the last two days: a cleaning, an addition or a liquid for the airlock that names bleach, hypochlorite or a
    chlorine cleaner, and sulfite or acid named in the same words, or given to the same batch within a day of it. A
    cleaning that says it was rinsed, or that was of a floor, a sink or the like, counts only where its own words
    name both. Bleach that was added to the drink counts for as long as the drink lasts. A note alone that names both is
    for today.

Why it matters
    Bleach and acid make chlorine gas, which burns eyes and lungs and can kill in a small room. Sulfite solution is
    acid too. Bleach is poison in a drink, and its traces taste of plaster for good.

What to do
    Leave the room and let air in. Do not pour anything more on it. Later rinse with much plain water, and use the one
    or the other, never both on one day. Discard a drink that got bleach.

Source
    Bleach and acids make chlorine gas: CDC, cleaning and disinfecting with bleach, and NIOSH pocket guide to chemical
    hazards, chlorine (10 ppm is immediately dangerous to life), both from memory, high confidence. Two days and one
    day: judgement, low confidence. The taste of chlorine on wine: common practice, high confidence.
"""

import re
from datetime import timedelta

from mustwatch.entry.substance import kind_of
from mustwatch.ledger.events import Added, Cleaned, Closed, Event
from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="bleach-beside-acid", severity=Severity.DANGER, stages=LIVING_STAGES)
BLEACH = re.compile(
    r"\b(bleach(?!ed (?:the )?(?:fruit|colou?r)|es\b)\w*|hypochlorit\w*|chlorin\w* (?:cleaner|tablets?|powder)"
    r"|chlorox\w*|javel\w*|eau de javel|pool chlorine|chlorine)\b",
    re.I,
)
ACID = re.compile(
    r"\b(acids?|vinegar|citric|tartaric|malic|lactic|phosphoric|lemon(?: juice)?|descaler|sul(?:f|ph)it\w*"
    r"|metabisul\w*|campden|k-?meta|kms|smb|so2|star ?acid)\b",
    re.I,
)
RINSED = re.compile(r"\b(rins\w+|washed (?:off|out)|flushed)\b", re.I)
ELSEWHERE = re.compile(r"\b(floors?|sinks?|toilet|bathroom|walls?|drains?|bins?|worktop|laundry|kitchen)\b", re.I)
FRESH = timedelta(days=2)
NEAR = timedelta(days=1)


def check(view: View) -> Findings:
    """A finding while bleach and acid may meet, or where bleach is in the drink."""
    batch = view.batch
    drunk = next((added for added in batch.additions if says(added.what, BLEACH)), None)
    if drunk is not None:
        yield _in_drink(view, drunk)
        return
    fresh = [event for event in batch.story if view.now - event.at < FRESH]
    for event in reversed(fresh):
        text = _words(event)
        if not says(text, BLEACH):
            continue
        if says(text, ACID):
            yield _beside(view, [event], Severity.DANGER if isinstance(event, Cleaned | Closed) else Severity.TODAY)
            return
        other = _acid_near(view, event) if isinstance(event, Cleaned | Closed) and not _is_off(text) else None
        if other is not None:
            yield _beside(view, [event, other], Severity.DANGER)
            return


def _words(event: Event) -> str:
    return "; ".join(part for part in (getattr(event, "how", None), getattr(event, "liquid", None), event.note) if part)


def _is_off(text: str) -> bool:
    """Whether it was rinsed away, or was never near the drink."""
    return says(text, RINSED) or ELSEWHERE.search(text) is not None


def _acid_near(view: View, bleach: Event) -> Added | None:
    """Sulfite or acid given within a day of the bleach."""
    given = [added for added in view.batch.additions if abs(added.at - bleach.at) <= NEAR]
    return next((a for a in given if "acid" in (a.category, kind_of(a.what)[0]) or a.category == "sulfite"), None)


def _beside(view: View, events: list[Event], severity: Severity) -> Finding:
    last = max(event.at for event in events)
    return RULE.found(
        view,
        severity,
        f"Bleach is on record beside sulfite or acid, last on {words.moment(view, last)}.",
        why="Bleach and acid make chlorine gas, which burns eyes and lungs and can kill in a small room.",
        do=(
            "Leave the room and let air in. Pour nothing more on it.",
            "Call the poison centre if anybody coughs or feels ill.",
            "Later rinse with much plain water. Never use both on one day.",
        ),
        clears_when="two days have passed, or the entry is corrected.",
        evidence=[event.id for event in events],
        since=last,
        missing=() if says(_words(events[0]), RINSED) else ("whether the bleach was rinsed away with plain water",),
        look_again=look_in(view, 0.25),
    )


def _in_drink(view: View, added: Added) -> Finding:
    return RULE.found(
        view,
        Severity.DANGER,
        f"Bleach was added on {words.date(view, added.at)}, says the record.",
        why="Bleach is poison in a drink, and with the acid of a must it makes chlorine gas.",
        do=(
            "Do not taste it. Leave the room and let air in.",
            "Discard the batch outside, in much water.",
            "If the entry is mistaken, correct it.",
        ),
        clears_when="the batch is ended, or the entry is corrected.",
        evidence=(added.id,),
        since=added.at,
        look_again=look_in(view, 0.25),
        action=("end", ""),
    )
