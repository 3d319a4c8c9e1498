"""The round's screen: list, detail and form, and the messages between them."""

from __future__ import annotations

import gc
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.events import DescendantBlur, DescendantFocus, Resize
from textual.screen import Screen

from mustwatch.ledger.visible import cells, visible
from mustwatch.screens.ink import Line, padded
from mustwatch.screens.pane import Pane
from mustwatch.screens.round.actions import Actions
from mustwatch.screens.round.batch_list import BatchList
from mustwatch.screens.round.detail import Detail
from mustwatch.screens.round.form import Draft
from mustwatch.screens.round.frame import WIDE, Frame, frame_of
from mustwatch.screens.round.keys import FORM_FOOT, JUMP_KEYS, LIST_FOOT, LIST_KEYS, SCREEN_KEYS
from mustwatch.screens.round.reading_form import ReadingForm
from mustwatch.screens.round.rows import Row, kept_order, matching, need, rows_of
from mustwatch.screens.unsent import Fields

if TYPE_CHECKING:
    from mustwatch.batches.batch import Batch
    from mustwatch.screens.look import Look

POLL_SECONDS = 1.0
FIRST_REST = 0.03
HINT = 'a gravity such as 1.042; the note line takes swirled bubbling pH3.6 "a note"'


class RoundList(BatchList):
    """The batch list with the keys of the round."""

    BINDINGS = [Binding(key, f"screen.{action}", show=False) for key, action, _, _ in (*LIST_KEYS, *JUMP_KEYS)]


class RoundScreen(Actions, Screen[None]):
    """The daily check."""

    BINDINGS = [
        *(Binding(key, action, show=False) for key, action, _, _ in SCREEN_KEYS),
        Binding("question_mark,f1", "keys", show=False),
    ]

    def __init__(
        self, first: Callable[[], Frame | None], take_look: Callable[[], Look], drafts: dict[str, Fields]
    ) -> None:
        super().__init__()
        self._first = first
        self._take_look = take_look
        self._look: Look | None = None
        self.drafts = drafts
        self.order: list[str] = []
        self.words = ""
        self.with_ended = False
        self.saved: dict[str, tuple[str, ...]] = {}

    @property
    def look(self) -> Look:
        """The cellar as last looked at; what is needed for that is loaded only after the first frame."""
        if self._look is None:
            self._look = self._take_look()
        return self._look

    def compose(self) -> ComposeResult:
        yield Pane(id="top")
        with Horizontal(id="middle"):
            yield RoundList(id="batches")
            yield Detail(id="detail")
        yield ReadingForm()
        yield Pane(id="says")
        yield Pane(id="foot")

    # -- what is shown

    def on_mount(self) -> None:
        """Draws the first frame from plain data; the rest follows it."""
        first = self._first()
        if first is None:
            return
        self.order = [row.tag for row in first.rows]
        self.set_focus(self.query_one(BatchList))
        self._set_rows(first.rows, first.now, None)
        self.query_one(Detail).show(first.detail)
        self._draw_top(first)
        tag = self.query_one(BatchList).tag
        form = self.query_one(ReadingForm)
        form.set_degrees(first.degrees)
        form.load(_form_title(tag, first.read_only), self.drafts.get(tag, {}) if tag else {})
        form.show_draft(Draft(empty=True), HINT)
        if self.drafts:
            tags = ", ".join(visible(tag) for tag in self.drafts)
            self.say(f"typed and not saved last time, still here: {tags}", "watch")
        # Not at once: the first frame is still being written, by a thread that has to share this process's time.
        self.set_timer(FIRST_REST, self._complete)

    async def _complete(self) -> None:
        await self.query_one(ReadingForm).make_ready()
        self.redraw()
        self.app.release_keys()
        self.set_interval(POLL_SECONDS, self._poll)
        gc.freeze()
        gc.enable()

    def on_resize(self, event: Resize) -> None:
        """Lays out anew for the new size."""
        self.set_class(event.size.width >= WIDE, "-wide")
        if self._look is not None:
            self._draw_top(frame_of(self.look))

    @on(Detail.Widened)
    def _widened(self) -> None:
        if self._look is not None:
            self.draw_batch()

    @property
    def batch(self) -> Batch | None:
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
        shown = matching(marked, self.words, self.with_ended)
        empty = f" nothing matches {visible(self.words)}" if self.words else " no batch yet: mustwatch begin TAG"
        self.query_one(BatchList).set_rows(shown, now, tag, empty)

    def draw_batch(self, *, whole: bool = True) -> None:
        """The detail pane and the form of the batch under the cursor."""
        batch = self.batch
        self.query_one(Detail).show_batch(self.look, batch, whole=whole)
        form = self.query_one(ReadingForm)
        form.load(_form_title(batch.tag if batch else None, self.look.read_only or ""), self.fields_now())
        self._echo()
        if whole and batch is not None and batch.active and self.look.known_outlook(batch) is None:
            self.run_worker(lambda: self._forecast(batch), thread=True, exclusive=True, exit_on_error=False)
        elif not whole:
            self.call_after_refresh(self._finish, batch.tag if batch else None)

    def _finish(self, tag: str | None) -> None:
        # The cursor may have moved on meanwhile: then the newer drawing finishes itself.
        if self.batch is not None and self.batch.tag == tag and self.is_attached:
            self.draw_batch()

    def _forecast(self, batch: Batch) -> None:
        if self.look.make_outlook(batch) is not None:
            self.app.call_from_thread(self._forecast_made, batch)

    def _forecast_made(self, batch: Batch) -> None:
        if self.batch is not None and self.batch.revision == batch.revision:
            self.query_one(Detail).show_batch(self.look, self.batch)

    def _draw_top(self, frame: Frame) -> None:
        when = f"{frame.now.day} {frame.now:%b %Y %H:%M}"
        right = f"{when}, read-only " if frame.is_past else f"as of {when} "
        pieces: list[tuple[str, str]] = [(f" {visible(frame.name, limit=24) or 'mustwatch'}  ", "strong")]
        pieces += [(f"{count} {word} ", word) for count, word in frame.counts] or [("nothing found  ", "")]
        if frame.trouble:
            pieces.append((f"! {visible(frame.trouble)} ", "danger"))
        room = self.app.size.width - sum(cells(text) for text, _ in pieces)
        self.query_one("#top", Pane).show([(*pieces, (right.rjust(room), ""))])

    def say(self, text: str, role: str = "") -> None:
        """One line above the foot, until the next one."""
        width = max(20, self.app.size.width - 1)
        line: Line = ((" " + padded(text, width - 1).rstrip(), role),)
        self.query_one("#says", Pane).show([line])

    @on(DescendantFocus)
    @on(DescendantBlur)
    def _draw_foot(self) -> None:
        text = LIST_FOOT if self.query_one(BatchList).has_focus else FORM_FOOT
        self.query_one("#foot", Pane).show([((f" {text}", "dim"),)])

    # -- the form

    def fields_now(self) -> Fields:
        """What is typed for the batch under the cursor."""
        batch = self.batch
        return self.drafts.get(batch.tag, {}) if batch else {}

    def draft(self) -> Draft:
        """What is typed, understood."""
        batch = self.batch
        if batch is None or not self.fields_now():
            return Draft(empty=True)
        # Not before something is typed: the grammar's import would hold up the first frame.
        from mustwatch.screens.round.fields import draft_of

        look = self.look
        now = look.now if look.read_only else look.source.clock_now
        return draft_of(self.fields_now(), batch, look.cellar.instruments, look.settings, now)

    def _echo(self) -> None:
        self.query_one(ReadingForm).show_draft(self.draft(), HINT)

    @on(ReadingForm.Edited)
    def _edited(self, message: ReadingForm.Edited) -> None:
        batch = self.batch
        if batch is None:
            return
        had = batch.tag in self.drafts
        if message.fields:
            self.drafts[batch.tag] = dict(message.fields)
        else:
            self.drafts.pop(batch.tag, None)
        if had != bool(message.fields):
            self._mark_rows()
        self._echo()
        self.keep_soon()

    def _mark_rows(self) -> None:
        rows = kept_order(rows_of(self.look.cellar, self.look.findings), self.order)
        self._set_rows(rows, self.look.now, self.query_one(BatchList).tag)

    @on(ReadingForm.Submitted)
    def _submitted(self) -> None:
        self.save_draft()

    @on(ReadingForm.Left)
    def _left(self) -> None:
        self.set_focus(self.query_one(BatchList))

    @on(ReadingForm.Other)
    def _other(self, message: ReadingForm.Other) -> None:
        self.query_one(BatchList).action_move(message.by)

    @on(BatchList.Moved)
    def _moved(self) -> None:
        self.draw_batch(whole=False)

    @on(BatchList.Chosen)
    def _chosen(self) -> None:
        self.action_reading()

    # -- the world outside

    def _poll(self) -> None:
        if self.app.is_terminal_gone():
            self.action_quit()
            return
        try:
            if self.look.is_stale():
                self.see_again(reorder=not self.drafts and self.query_one(BatchList).has_focus)
        except Exception as error:
            self.say(f"the cellar cannot be read: {error}", "danger")

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


def _form_title(tag: str | None, read_only: str) -> str:
    return f"reading of {tag or 'no batch'}" + (" (read-only: nothing can be saved)" if read_only else "")
