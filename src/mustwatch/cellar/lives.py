"""What a story says out of turn: after its end, after its bottling, before its time, or by another name.

An end is a line like any other and may be a mistake, or another batch may have
taken over the tag. What happens after it is taken to have happened: a batch
thought to be over would be asked nothing.
"""

from collections.abc import Sequence
from datetime import datetime
from itertools import takewhile

from mustwatch.cellar.course import SUGARS
from mustwatch.cellar.holding import is_left_over, recorded_volume
from mustwatch.cellar.kinds import Kinds
from mustwatch.entry.substance import kind_of
from mustwatch.ledger.events import (
    Added,
    Bottled,
    Cleaned,
    Closed,
    Ended,
    Event,
    Hushed,
    Ingredient,
    Mixed,
    Moved,
    Noted,
    Pitched,
    Racked,
    Read,
    Took,
    UnknownKind,
)

NEEDS_NO_MUST = (Cleaned, Hushed, Moved, Noted, UnknownKind)
WOKEN_BY = SUGARS | {"yeast"}


def present_life(story: Sequence[Event]) -> tuple[Event, ...]:
    """The part of a story that tells of what is there now: from the mixing that followed an end, else all of it."""
    ended = False
    begins = 0
    for place, event in enumerate(story):
        if isinstance(event, Ended):
            ended = True
        elif ended and isinstance(event, Mixed):
            begins, ended = place, False
    return tuple(story[begins:])


def last_end(kinds: Kinds) -> Ended | None:
    """The end of a story, where nothing that needs a living batch was written down after it."""
    events = kinds.among(Ended, Mixed, Pitched, Read, Closed, Racked, Bottled, Added, Took)
    last = next((event for event in reversed(events) if not _looks_back(event)), None)
    return last if isinstance(last, Ended) else None


def _looks_back(event: Event) -> bool:
    """Whether it fits an ended batch: a thermometer's line, or a bottle that was found and did not burst."""
    return (isinstance(event, Read) and event.gravity is None) or (isinstance(event, Took) and not event.burst)


def in_vessel_after_bottling(kinds: Kinds) -> bool:
    """Whether what was written down after the last bottling tells of drink that lies in a vessel all the same."""
    closed = kinds.last(Closed) is not None
    told = kinds.among(Bottled, Mixed, Pitched, Racked, Closed, Added)
    since_bottling = takewhile(lambda event: not isinstance(event, Bottled), reversed(told))
    return any(not isinstance(event, Added) or (closed and event.category in WOKEN_BY) for event in since_bottling)


def astray(kinds: Kinds) -> tuple[Added, ...]:
    """The additions that came when all of it was in bottles: nobody knows into which vessel they went.

    Not where the figures leave more than the lees and a bottle in the vessel, or where a later line tells that some
    lies in one.
    """
    bottlings = kinds.all(Bottled)
    if not bottlings:
        return ()
    last = bottlings[-1]
    after = [event for event in kinds.among(Mixed, Pitched, Racked, Closed, Added) if event.at > last.at]
    litres = recorded_volume(kinds.among(Mixed, Racked), last.at)
    if is_left_over(litres, bottlings) or not all(isinstance(event, Added) for event in after):
        return ()
    return tuple(event for event in after if isinstance(event, Added))


def named(event: Event) -> Event:
    """The event with its additions put where their names belong, where the record says no more than `other`."""
    if isinstance(event, Added) and event.category == "other":
        category = kind_of(event.what)[0]
        return event if category == "other" else event.model_copy(update={"category": category})
    if isinstance(event, Mixed) and any(part.category == "other" for part in event.ingredients):
        return event.model_copy(update={"ingredients": tuple(_named_part(part) for part in event.ingredients)})
    return event


def _named_part(part: Ingredient) -> Ingredient:
    category = kind_of(part.what)[0] if part.category == "other" else part.category
    return part if category == part.category else part.model_copy(update={"category": category})


def dated_before_mixing(life: Sequence[Event], mixed: Mixed | None) -> tuple[Event, ...]:
    """What needs a must and is dated before the day of the first mixing: a diary often knows the day alone."""
    if mixed is None:
        return ()
    before = takewhile(lambda event: event.at < mixed.at, life)
    day, zone = mixed.at.date(), mixed.at.tzinfo
    return tuple(e for e in before if not isinstance(e, NEEDS_NO_MUST) and e.at.astimezone(zone).date() < day)


def last_looked(story: Sequence[Event]) -> datetime | None:
    """When somebody last stood before it: a thermometer's own lines are no look."""
    return next(
        (event.at for event in reversed(story) if not isinstance(event, Hushed) and not _is_thermometer(event)), None
    )


def _is_thermometer(event: Event) -> bool:
    without = isinstance(event, Read) and event.gravity is None and event.ph is None and event.note is None
    return without or event.by_itself
