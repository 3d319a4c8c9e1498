"""What was read of a cellar, and what a save of one's own adds to it: the rest need not be read again."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from mustwatch.ledger.codec import parse
from mustwatch.ledger.events import Amended, Event, Read, Withdrew
from mustwatch.ledger.stamp import line_of
from mustwatch.ledger.trouble import Contents

State = tuple[str, int, int, int, int]  # path, inode, size, times
Fingerprint = tuple[State, ...]


class Known(NamedTuple):
    """What a cellar holds while its files are as the fingerprint, taken before they were read, says."""

    fingerprint: Fingerprint
    contents: Contents

    def with_saved(self, saved: Sequence[Event], own: Path, before: Fingerprint, after: Fingerprint) -> Known | None:
        """What it holds after a save; None where that must be read: where more has changed than that save alone.

        own: the file that was added to; before, after: the fingerprints about the save.
        """
        lines, events = [line_of(event) for event in saved], self.contents.events
        if before != self.fingerprint or not _only_grew(str(own), sum(map(len, lines)), before, after):
            return None
        if not saved or not events:
            return None
        if min(event.id for event in saved) <= events[-1].id or any(map(_reaches_back, saved)):
            return None
        return Known(after, self.contents._replace(events=(*events, *(parse(line[:-1]) for line in lines))))


def _only_grew(own: str, grown: int, before: Fingerprint, after: Fingerprint) -> bool:
    was, now = ({state[0]: state[1:] for state in each} for each in (before, after))
    if own not in was or own not in now:
        return False
    (inode, size, *_), (same, larger, *_) = was.pop(own), now.pop(own)
    return was == now and (inode, size + grown) == (same, larger)


def _reaches_back(event: Event) -> bool:
    # A day of temperatures is condensed as a whole, and what a correction points at is not.
    return isinstance(event, Amended | Withdrew) or (isinstance(event, Read) and event.gravity is None)
