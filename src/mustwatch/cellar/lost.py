"""Entries that happened and cannot be used: damaged lines, and dates still to come. What they told is not known."""

import re
from collections.abc import Iterable, Sequence
from datetime import datetime

from mustwatch.cellar.batch import Closing, Lost
from mustwatch.ledger.clock import time_of
from mustwatch.ledger.events import KINDS, Event
from mustwatch.ledger.trouble import Trouble

UNREAD = {"damaged", "checksum", "torn"}  # faults of a file that leave a line out
PARTS = {"id": "[!-~]{1,64}?", "batch": "[a-z0-9-]{1,40}", "kind": "[a-z_]+", "at": '[^"]{10,40}'}
ID, BATCH, KIND, AT = (re.compile(rf'"{key}"\s*:\s*"({value})"') for key, value in PARTS.items())
CORRECTIONS = {"amended", "withdrew", None}  # whatever they were about; None: the kind cannot be read
CLOSES = {"closed", "racked", "mixed", "poured_back"} | CORRECTIONS
WAKES = {"added", "pitched", "mixed", "poured_back"} | CORRECTIONS


def salvaged(trouble: Trouble) -> Lost | None:
    """What can still be read of a line that was left out; None where its batch cannot, or no line is meant.

    Of two times in it the later counts: one flipped figure must not make it look long past.
    """
    batch = BATCH.search(trouble.text) if trouble.kind in UNREAD else None
    if batch is None:
        return None
    kind, event_id = (found[1] if (found := part.search(trouble.text)) else None for part in (KIND, ID))
    since = _time(found[1]) if (found := AT.search(trouble.text)) else None
    at = max((time for time in (since, time_of(event_id or "")) if time is not None), default=None)
    why = f"line {trouble.line} of {trouble.file} is damaged and may tell of it"
    return Lost(batch[1], kind if kind in KINDS else None, at, event_id, why, since)


def _time(text: str) -> datetime | None:
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        return None
    return found if found.tzinfo else None


def undated(ahead: Iterable[Event]) -> list[Lost]:
    """Entries dated in the future, which have happened by the time they were written down."""
    why = "an entry that may tell of it is dated in the future"
    return [Lost(event.batch or "", event.kind, time_of(event.id), event.id, why) for event in ahead]


def unsure(closing: Closing, lost: Sequence[Lost]) -> Closing:
    """The closure, not known where what was lost may have changed it; a sealed one stays the worse of the two."""
    since = closing.since
    may = [one for one in lost if one.kind in CLOSES and (one.at is None or since is None or one.at >= since)]
    if closing.sealed or not may:
        return closing
    return Closing(None, False, may[-1].at, may[-1].id, why_unknown=may[-1].why)
