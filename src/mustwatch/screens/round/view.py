"""What the round's screen shows: the look at the cellar, drawn into list, detail and form."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING, cast

from textual.screen import Screen

from mustwatch.ledger.visible import visible
from mustwatch.screens.ink import Line, padded
from mustwatch.screens.pane import INK_CLASSES, Pane
from mustwatch.screens.round.batch_list import BatchList
from mustwatch.screens.round.detail import Detail
from mustwatch.screens.round.form import Draft
from mustwatch.screens.round.frame import Frame, frame_of, top_line
from mustwatch.screens.round.reading_form import ReadingForm
from mustwatch.screens.round.rows import Row, kept_order, matching, need, rows_of
from mustwatch.screens.unsent import Fields

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.screens.app import RoundApp
    from mustwatch.screens.look import Look

HINT = 'a gravity such as 1.042; the note line takes swirled bubbling pH3.6 "a note"'


class RoundView(Screen[None]):
    """Draws the cellar; what is done with it is up to the classes built on this one."""

    COMPONENT_CLASSES = INK_CLASSES

    def __init__(
        self, first: Callable[[], Frame | None], take_look: Callable[[], Look], drafts: dict[str, Fields]
    ) -> None:
        super().__init__()
        self._first = first
        self._take_look = take_look
        self._taken: Look | None = None
        self.drafts = drafts
        self.order: list[str] = []
        self.words = ""
        self.with_ended = False
        self.saved: dict[str, tuple[str, ...]] = {}
        self.form_texts: dict[tuple[str, str, str], Fields] = {}
        self._trouble = ""
        self.said_about = ""

    @property
    def program(self) -> RoundApp:
        """The program this screen is part of."""
        return cast("RoundApp", self.app)

    @property
    def look(self) -> Look:
        """The cellar as last looked at; what is needed for that is loaded only after the first frame."""
        if self._taken is None:
            self._taken = self._take_look()
        return self._taken

    @property
    def chosen(self) -> Batch | None:
        """The batch under the cursor."""
        tag = self.query_one(BatchList).tag
        return self.look.batch(tag) if tag else None

    def draw_list(self, tag: str | None) -> None:
        """The list in its kept order, the cursor on `tag`, and the batch it stands on."""
        rows = kept_order(rows_of(self.look.cellar, self.look.findings), self.order)
        self.order = [row.tag for row in rows]
        self._set_rows(rows, self.look.now, tag)
        self.draw_batch(whole=False)

    def _set_rows(self, rows: Sequence[Row], now: datetime, tag: str | None) -> None:
        marked = [replace(row, typed=True) if self.drafts.get(row.tag) else row for row in rows]
        batches = self.query_one(BatchList)
        # Whatever another process writes, the batch one types for stays under the cursor, and what is typed in sight.
        held = tag if self.focused is not batches else None
        found = {row.tag for row in matching(marked, self.words, self.with_ended)}
        shown = [row for row in marked if row.tag in found or row.tag == held or (row.typed and row.ended)]
        empty = f" nothing matches {visible(self.words)}" if self.words else " no batch yet: mustwatch begin TAG"
        hidden = len({row.tag for row in matching(marked, "", self.with_ended)} - {row.tag for row in shown})
        note = f" {hidden} hidden, / shows only: {visible(self.words)}" if hidden else ""
        batches.set_rows(shown, now, tag, empty, note)

    def draw_batch(self, *, whole: bool = True) -> None:
        """The detail pane and the form of the batch under the cursor."""
        batch = self.chosen
        self.query_one(Detail).show_batch(self.look, batch, whole=whole)
        form = self.query_one(ReadingForm)
        tag = batch.tag if batch else None
        form.load(tag, form_title(tag, self.look.read_only or ""), self.fields_now())
        self._echo()
        if whole and batch is not None and batch.active and self.look.known_outlook(batch) is None:
            self.run_worker(lambda: self._forecast(batch), thread=True, exclusive=True, exit_on_error=False)
        elif not whole:
            self.call_after_refresh(self._finish, batch.tag if batch else None)

    def _finish(self, tag: str | None) -> None:
        # The cursor may have moved on meanwhile: then the newer drawing finishes itself.
        if self.chosen is not None and self.chosen.tag == tag and self.is_attached:
            self.draw_batch()

    def _forecast(self, batch: Batch) -> None:
        if self.look.make_outlook(batch) is not None:
            self.app.call_from_thread(self._forecast_made, batch)

    def _forecast_made(self, batch: Batch) -> None:
        if self.chosen is not None and self.chosen.revision == batch.revision:
            self.query_one(Detail).show_batch(self.look, self.chosen)

    def _draw_top(self, frame: Frame) -> None:
        if frame.trouble != self._trouble:
            self._trouble = frame.trouble
            self.say(frame.trouble or "the ledger is in order again", "danger" if frame.trouble else "good")
        self.query_one("#top", Pane).show([top_line(frame, self.app.size.width)])

    def say(self, text: str, role: str = "", *, about: str = "") -> None:
        """One line above the foot, until the next one, or until something else is typed for the batch it is about."""
        self.said_about = about
        width = max(20, self.app.size.width - 1)
        line: Line = ((" " + padded(text, width - 1).rstrip(), role),)
        self.query_one("#says", Pane).show([line])

    def fields_now(self) -> Fields:
        """What is typed for the batch under the cursor."""
        batch = self.chosen
        return self.drafts.get(batch.tag, {}) if batch else {}

    def draft(self) -> Draft:
        """What is typed, understood."""
        batch = self.chosen
        if batch is None or not self.fields_now():
            return Draft(empty=True)
        # Not before something is typed: the grammar's import would hold up the first frame.
        from mustwatch.screens.round.fields import draft_of

        look = self.look
        now = look.now if look.read_only else look.source.clock_now
        return draft_of(self.fields_now(), batch, look.cellar.instruments, look.settings, now)

    def _echo(self) -> None:
        self.query_one(ReadingForm).show_draft(self.draft(), HINT)

    def _mark_rows(self) -> None:
        rows = kept_order(rows_of(self.look.cellar, self.look.findings), self.order)
        self._set_rows(rows, self.look.now, self.query_one(BatchList).tag)

    def see_again(self, *, reorder: bool = False) -> None:
        """Takes a new look and draws what it shows; the cursor stays with its batch."""
        self.look.again()
        self.redraw(reorder=reorder)

    def redraw(self, *, reorder: bool = False, tag: str | None = None) -> None:
        """Draws the look as it is; `tag` is where the cursor goes, else it stays."""
        tag = tag or self.query_one(BatchList).tag
        if reorder:
            self.order = [row.tag for row in sorted(rows_of(self.look.cellar, self.look.findings), key=need)]
        self.draw_list(tag)
        self._draw_top(frame_of(self.look))


def form_title(tag: str | None, read_only: str) -> str:
    """The title of the form."""
    return f"reading of {tag or 'no batch'}" + (" (read-only: nothing can be saved)" if read_only else "")
