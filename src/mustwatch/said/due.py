"""What falls due, in words: (what to do, why) of what no rule speaks of."""

from datetime import datetime

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.lots import LotLeft
from mustwatch.judgement.keeping import Window
from mustwatch.judgement.state import Verdict
from mustwatch.ledger.settings import Settings
from mustwatch.said.bottles import lot_words, window_words
from mustwatch.said.dates import day, days_between
from mustwatch.said.standing import HIDDEN_POINTS, state_words

Words = tuple[str, str]


def decide_words(batch: Batch, verdict: Verdict, now: datetime, settings: Settings) -> str:
    """Why another reading is due."""
    return _sentence("; ".join(state_words(batch, verdict, now, settings)))


def end_words(first: datetime | None, last: datetime | None, now: datetime) -> Words:
    """That a batch should be at its end by then, and how sure that is."""
    if last is None:
        return "Read the gravity.", f"It may be at its end, {day(first or now, now)} at the soonest."
    return "Read the gravity.", f"It should come to its end {days_between(first or now, last, now)}."


BOTTLE = "Bottle it when it is clear, or let it age."


def bottle_words(batch: Batch, verdict: Verdict, now: datetime, settings: Settings) -> Words:
    """That a batch may be bottled, and what that rests on; where its reading may hide sugar, not before another."""
    said = "; ".join(state_words(batch, verdict, now, settings))
    hides = verdict.may_hold is not None and verdict.may_hold >= HIDDEN_POINTS
    first = "Let it age, or read it once more before you bottle it." if hides else BOTTLE
    return first, _sentence(said)


def from_words(lot: LotLeft, window: Window, now: datetime) -> Words:
    """That a lot begins to drink well."""
    return "Taste a bottle.", _sentence(f"{lot_words(lot, now)}; {window_words(window, now)}")


def until_words(lot: LotLeft, window: Window, now: datetime) -> Words:
    """That the like of a lot keeps no longer."""
    return "Drink what is left, or taste whether it still keeps.", _sentence(
        f"{lot_words(lot, now)}; {window_words(window, now)}"
    )


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}." if words else ""
