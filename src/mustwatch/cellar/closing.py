"""The closure of a batch: can gas get out? Only what was recorded counts; a new vessel forgets the old closure."""

import re
from collections.abc import Sequence

from mustwatch.cellar.batch import Closing
from mustwatch.ledger.events import VENTED_CLOSURES, Closed, Event, Mixed, Racked, Seen

TIGHT = re.compile(
    r"(?<!not )(?<!un)\b(tight|tightly|sealed|screwed down|screwed shut|clamped|airtight)\b", re.IGNORECASE
)


def closing_of(story: Sequence[Event]) -> Closing:
    """The closure as last recorded.

    Mixing and racking bring a new vessel, whose closure is not known until recorded. A look at an airlock
    tells that one is on, where nothing else is recorded: bubbles are seen under a cloth too, and do not open
    a tight cap.
    """
    closing = Closing(None, False, None, None, why_unknown="no closure was ever recorded")
    for event in story:
        if isinstance(event, Closed):
            closing = _closed(event)
        elif isinstance(event, Racked):
            closing = Closing(None, False, event.at, event.id, why_unknown="not recorded since it was racked")
        elif isinstance(event, Mixed):
            closing = Closing(None, False, event.at, event.id, why_unknown="not recorded since it was mixed")
        elif isinstance(event, Seen) and event.airlock is not None and closing.kind is None:
            closing = Closing("airlock", True, event.at, event.id)
    return closing


def _closed(event: Closed) -> Closing:
    if event.closure in {"loose-cap", "cloth"} and TIGHT.search(event.fit or ""):
        why = f"recorded as a {event.closure.replace('-', ' ')} that fits {event.fit}, which cannot both be"
        return Closing(None, False, event.at, event.id, fit=event.fit, why_unknown=why)
    return Closing(event.closure, event.closure in VENTED_CLOSURES, event.at, event.id, event.liquid, event.fit)
