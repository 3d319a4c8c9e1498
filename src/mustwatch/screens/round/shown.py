"""What the round shows: which batches, in which order, which of them is chosen, and what is typed for each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from mustwatch.ledger.visible import visible
from mustwatch.screens.round.fields import Draft, draft_of
from mustwatch.screens.round.rows import Row, kept_order, matching, rows_of

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.screens.look import Look
    from mustwatch.screens.unsent import Fields

# Words by which the list itself is sorted: whoever asks for the stalled ones does not want each note of a stall.
OF_THE_LIST = {
    "danger", "today", "watch", "note", "quiet", "planned", "must", "lag", "primary", "secondary", "ageing",
    "bottled", "ended",
}  # fmt: skip


class Shown:
    """The list as the screen has it. rows: in their order; cursor: the row chosen; drafts: tag -> what is typed."""

    def __init__(self, look: Look, drafts: dict[str, Fields]) -> None:
        self.look, self.drafts = look, drafts
        self.words, self.with_ended = "", False
        self.rows: Sequence[Row] = ()
        self.cursor = 0
        self.hidden = 0
        self._order: list[str] = []
        self._sought: tuple[str, int, frozenset[str]] | None = None

    @property
    def tag(self) -> str | None:
        """The tag of the batch chosen."""
        return self.rows[self.cursor].tag if self.rows else None

    @property
    def batch(self) -> Batch | None:
        """The batch chosen."""
        return self.look.batch(self.tag) if self.tag else None

    @property
    def fields(self) -> Fields:
        """What is typed for the batch chosen."""
        return self.drafts.get(self.tag or "", {})

    @property
    def empty(self) -> str:
        """What stands in the place of rows where there are none."""
        return f"nothing matches {visible(self.words)}" if self.words else "no batch yet: w, then b, mixes the first"

    @property
    def note(self) -> str:
        """What the list says of batches that a filter hides."""
        return f"{self.hidden} hidden, / shows only: {visible(self.words)}" if self.hidden else ""

    def arrange(self, *, hold: bool = False) -> None:
        """The rows of the look as it is now. The cursor stays with its batch; `hold` keeps that one in the list."""
        tag = self.tag
        ordered = rows_of(self.look.cellar, self.look.findings)
        ordered = kept_order(ordered, self._order) if self._order else ordered
        self._order = [row.tag for row in ordered]
        marked = [replace(row, typed=True) if self.drafts.get(row.tag) else row for row in ordered]
        found = {row.tag for row in matching(marked, self.words, self.with_ended, self._written())}
        # Whatever another process writes, the batch one types for stays under the cursor, and what is typed in sight.
        rows = [row for row in marked if row.tag in found or (hold and row.tag == tag) or (row.typed and row.ended)]
        self.hidden = len({row.tag for row in matching(marked, "", self.with_ended)} - {row.tag for row in rows})
        self.rows = rows
        place = next((number for number, row in enumerate(rows) if row.tag == tag), self.cursor)
        self.cursor = max(0, min(place, len(rows) - 1))

    def _written(self) -> frozenset[str]:
        """The tags of the batches in whose notes, tastings, looks or ingredients the words of the filter stand."""
        events, words = self.look.events, self.words.split()
        if not words or all(word.lower() in OF_THE_LIST for word in words):
            return frozenset()
        if self._sought is None or self._sought[:2] != (self.words, len(events)):
            from mustwatch.cellar.corrections import corrected
            from mustwatch.cellar.search import search

            hits = search(corrected(tuple(events)).events, words)
            self._sought = (self.words, len(events), frozenset(hit.batch for hit in hits if hit.batch))
        return self._sought[2]

    def reorder(self) -> None:
        """Lets need alone order the batches again."""
        self._order = []

    def move_to(self, place: int) -> bool:
        """Chooses a row, as far as there are rows; whether it is another one."""
        before = self.cursor
        self.cursor = max(0, min(place, len(self.rows) - 1))
        return self.cursor != before

    def choose(self, tag: str) -> None:
        """Chooses a batch; a filter that hides it is taken off."""
        if tag not in {row.tag for row in self.rows}:
            self.words = ""
            self.arrange()
        self.move_to(next((place for place, row in enumerate(self.rows) if row.tag == tag), self.cursor))

    def go_on(self) -> None:
        """Chooses the next batch; at the end of the walk the list is ordered anew, and its head chosen."""
        if not self.move_to(self.cursor + 1):
            self.reorder()
            self.arrange()
            self.move_to(0)

    def keep(self, tag: str, fields: Fields) -> bool:
        """Keeps what is typed for a batch, or forgets it; whether the batch is marked otherwise than before."""
        had = tag in self.drafts
        if fields:
            self.drafts[tag] = fields
        else:
            self.drafts.pop(tag, None)
        return had != bool(fields)

    def draft(self) -> Draft:
        """What is typed for the batch chosen, understood."""
        batch, look = self.batch, self.look
        if batch is None or not self.fields:
            return Draft(empty=True)
        return draft_of(self.fields, look.ground(batch.tag))
