"""What was seen, smelled and tasted, look by look: when it was there, when it was not, and for how long.

Words are the user's own, so a rule gives a pattern. A word after `no`, `not`, `never` or `without` counts
against. What stands must be gone for a while before it is called gone: one look without it is no proof.
"""

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.heard import says as says
from mustwatch.ledger.events import Seen
from mustwatch.rules.view import View

UNSURE = re.compile(r"\b(unsure|not sure|maybe|perhaps)\b", re.IGNORECASE)


class Look(NamedTuple):
    """One look: whether the thing was there, and whether the observer was sure of it."""

    at: datetime
    id: str
    there: bool
    unsure: bool = False


def smells(batch: Batch, words: re.Pattern[str]) -> list[Look]:
    """The looks and tastings that say how it smelled or tasted, oldest first."""
    looks = [
        Look(seen.at, seen.id, says(_plain(seen.smell), words), _unsure(seen)) for seen in batch.seen if seen.smell
    ]
    for tasting in batch.tastings:
        if text := " ".join(part for part in (tasting.nose, tasting.palate) if part):
            looks.append(Look(tasting.at, tasting.id, says(text, words), bool(UNSURE.search(text))))
    return sorted(looks, key=lambda look: look.at) if batch.tastings else looks


def surfaces(batch: Batch, kinds: frozenset[str]) -> list[Look]:
    """The looks at the surface, oldest first; there: it was one of `kinds`."""
    return [Look(seen.at, seen.id, seen.surface in kinds, _unsure(seen)) for seen in batch.seen if seen.surface]


def standing(looks: Sequence[Look], gone_days: float) -> tuple[Look, ...]:
    """The run of looks that found it and has not ended: it ends once looks without it span `gone_days`."""
    run: list[Look] = []
    absent: datetime | None = None
    for look in looks:
        if look.there:
            run.append(look)
            absent = None
        elif run:
            absent = absent or look.at
            if look.at - absent >= timedelta(days=gone_days):
                run, absent = [], None
    return tuple(run)


def fresh(view: View, run: Sequence[Look], days: float) -> bool:
    """Whether the last look of a run is so recent that it still says something."""
    return bool(run) and view.now - run[-1].at < timedelta(days=days)


def ids(run: Sequence[Look]) -> tuple[str, ...]:
    """Ids of the first and the last look of a run."""
    return tuple(dict.fromkeys((run[0].id, run[-1].id)))


def cleaning_missing(batch: Batch) -> tuple[str, ...]:
    """The missing fact that everybody asks for first when something grows, or nothing where it is recorded."""
    if any(event.kind == "cleaned" for event in batch.story):
        return ()
    return ("how and when vessel and tools were cleaned",)


def _unsure(seen: Seen) -> bool:
    return bool(seen.signs) and UNSURE.search(_plain(seen.signs)) is not None


def _plain(words: Sequence[str]) -> str:
    return " ".join(words).replace("-", " ").replace("_", " ")
