"""Saves entries and takes them back, and says what became of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mustwatch.ledger.trouble import NotSaved

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.ledger.events import Event
    from mustwatch.screens.look import Look


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a save. says: one line; role: its ink; saved: whether it is on disk; events: as they are there."""

    says: str
    role: str
    saved: bool = False
    events: tuple[Event, ...] = ()


class Recorder:
    """The way from the screen into the ledger."""

    def __init__(self, look: Look) -> None:
        self.look = look
        self._together: dict[str, frozenset[str]] = {}  # tag -> ids of what was saved for it last

    def save(self, events: Sequence[Event]) -> Outcome:
        """Saves events of one batch; when it says so, they are on disk. Never raises."""
        if reason := self.look.read_only:
            return Outcome(f"not saved, read-only: {reason}", "today")
        try:
            saved = self.look.save(events)
        except NotSaved as error:
            return Outcome(f"!! {error}", "danger")
        except Exception as error:  # whatever went wrong, what was typed must outlive it
            return Outcome(f"!! not saved: {str(error) or type(error).__name__}", "danger")
        tag = events[0].batch or ""
        self._together[tag] = frozenset(event.id for event in saved)
        return Outcome(f"saved {tag}: {self.told(saved)}", "good", saved=True, events=tuple(saved))

    def newest(self, batch: Batch) -> list[Event]:
        """The entry of a batch that was written last and still stands, with what was saved together with it."""
        standing = {event.id: event for event in batch.story}
        last = next((event.id for event in reversed(self.look.events) if event.id in standing), None)
        together = self._together.get(batch.tag, frozenset())
        if last in together:
            return [event for event in batch.story if event.id in together]
        return [standing[last]] if last else []

    def take_back(self, batch: Batch, events: Sequence[Event]) -> Outcome:
        """Takes entries of a batch back; they stay in the ledger."""
        try:
            drafts = [self.look.drafted("withdrew", batch.tag, target=event.id) for event in events]
        except ValueError as error:
            return Outcome(f"not taken back: {error}", "danger")
        outcome = self.save(drafts)
        return Outcome(f"taken back: {self.told(events)}", "good", saved=True) if outcome.saved else outcome

    def told(self, events: Sequence[Event]) -> str:
        """Entries in words, readings as corrected where they are folded already."""
        from mustwatch.said.telling import told_with_note

        batches = (self.look.batch(tag) for tag in {event.batch for event in events if event.batch})
        readings = {reading.id: reading for batch in batches if batch for reading in batch.readings}
        look = self.look
        return "; ".join(told_with_note(event, look.settings, look.now, readings.get(event.id)) for event in events)
