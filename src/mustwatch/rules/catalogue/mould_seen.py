"""Mould grows on the surface.

What it looks for
    A look at the surface noted as fuzzy or coloured, or one whose signs or words name mould or a blue, green, black
    or pink growth, in a vessel or in a bottle. Brown, tan and cream are colours of yeast and do not count unless it is
    fuzzy. One look is enough. An unsure look asks for a second one, until it is taken. A note of mould is asked about
    by note-speaks-of-danger.

Why it matters
    Mould makes poisons that go below the surface and cannot be tasted or skimmed off. Alcohol, sulfite and racking
    do not take them away.

What to do
    Do not taste it. Take a photograph, then discard the batch, and clean and sanitise the vessel, or throw it away
    if it is scratched plastic. If you are not sure, leave it closed and look again in three days: rafts of yeast
    sink or come apart when the jug is turned, mould stays.

Source
    To discard, not to skim: common practice and food-safety advice on soft and liquid foods, high confidence. The
    colours: common practice, medium confidence.
"""

import re

from mustwatch.judgement.spoken import speaks
from mustwatch.ledger.events import Seen
from mustwatch.rules.evidence.sightings import UNSURE, cleaning_missing, says
from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, View, look_in, words

RULE = Rule(
    name="mould-seen",
    severity=Severity.DANGER,
    stages=LIVING_STAGES,
    # What is to be discarded needs no other care.
    explains=("film-on-top", "vinegar-smell", "egg-smell", "air-over-ageing", "haze-stays", "long-on-gross-lees"),
)

GROWTH = re.compile(
    r"\b(mould\w*|mold\w*|fuzz\w*|(?:blue|green|black|pink|grey)\b.{0,40}\b(?:spot|patch|growth|fur))", re.I
)
COLOUR = re.compile(r"\b(blue|green|black|pink|grey|gray|orange)\b", re.I)
YEAST_COLOUR = re.compile(r"\b(brown|tan|cream|beige|white)\b", re.I)


def check(view: View) -> Findings:
    """A finding when mould was seen, or may have been."""
    sure: Seen | None = None
    unsure: Seen | None = None
    for event in view.batch.story:
        if not isinstance(event, Seen):
            continue
        surface, signs = _look(event)
        if not (surface in ("fuzzy", "coloured") or signs) or not _grows(view, event):
            if unsure is not None and surface is not None:
                unsure = None
        elif UNSURE.search(signs):
            unsure = event
        else:
            sure = sure or event
    if sure is not None:
        yield _found(view, sure)
    elif unsure is not None:
        yield _asked(view, unsure)


def _look(event: Seen) -> tuple[str | None, str]:
    """(surface, words) of a look."""
    return event.surface, " ".join((*event.signs, event.note or "")).replace("-", " ").replace("_", " ")


def _grows(view: View, event: Seen) -> bool:
    surface, signs = _look(event)
    if surface == "fuzzy" or says(signs, GROWTH):
        return True
    if surface is None and signs and speaks(view.batch, event.at, signs, "mould"):
        return True
    return surface == "coloured" and (says(signs, COLOUR) or not YEAST_COLOUR.search(signs))


def _found(view: View, seen: Seen) -> Finding:
    surface, signs = _look(seen)
    unnamed = surface == "coloured" and not says(signs, COLOUR)
    missing = (RULE.cannot_judge("the colour of the growth", "mould"),) if unnamed else ()
    return RULE.found(
        view,
        Severity.DANGER,
        f"{'A coloured' if surface == 'coloured' else 'A fuzzy'} growth was seen on {words.date(view, seen.at)}.",
        why="Mould makes poisons that go below the surface. They cannot be tasted, skimmed, racked or sulfited away.",
        do=(
            "Do not taste it. Take a photograph for your notes.",
            "Discard the batch. Clean and sanitise the vessel, or throw scratched plastic away.",
            "If the look was mistaken, take that entry back.",
        ),
        clears_when="the batch is ended as dumped, or the look is corrected.",
        evidence=(seen.id,),
        since=seen.at,
        missing=(*missing, *cleaning_missing(view.batch)),
        look_again=look_in(view, 1),
        action=("end", ""),
    )


def _asked(view: View, seen: Seen) -> Finding:
    return RULE.found(
        view,
        Severity.TODAY,
        f"On {words.date(view, seen.at)} something grew on the surface, and whoever looked was not sure what.",
        why="Yeast rafts and dried foam are harmless and come apart when the jug is turned; mould is fuzzy, coloured"
        " and stays, and then the batch must be discarded.",
        do=(
            "Do not taste it until it is settled.",
            "Turn the vessel gently and let it stand. Take a photograph.",
            "Look again in three days, in good light.",
        ),
        clears_when="a later look says what the surface is.",
        evidence=(seen.id,),
        since=seen.at,
        missing=(RULE.cannot_judge("a sure second look", "mould"),),
        look_again=look_in(view, 3),
        action=("log", ""),
    )
