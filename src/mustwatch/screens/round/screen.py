"""The round's screen: its parts, its keys, and what comes from the world outside."""

from __future__ import annotations

import gc

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.events import DescendantBlur, DescendantFocus, Resize

from mustwatch.ledger.visible import visible
from mustwatch.screens.pane import Pane
from mustwatch.screens.round.attending import Attending
from mustwatch.screens.round.batch_list import BatchList
from mustwatch.screens.round.detail import Detail
from mustwatch.screens.round.form import Draft
from mustwatch.screens.round.frame import NARROW, WIDE, frame_of
from mustwatch.screens.round.keys import FORM_FOOT, JUMP_KEYS, LIST_FOOT, LIST_KEYS, SCREEN_KEYS, foot_within
from mustwatch.screens.round.reading_form import ReadingForm
from mustwatch.screens.round.view import HINT, form_title

FILTER_HELP = "part of a tag, name, stage or severity; empty shows all"
POLL_SECONDS = 1.0
FIRST_REST = 0.03


class RoundList(BatchList):
    """The batch list with the keys of the round."""

    BINDINGS = [Binding(key, f"screen.{action}", show=False) for key, action, _, _ in (*LIST_KEYS, *JUMP_KEYS)]


class RoundScreen(Attending):
    """The daily check."""

    BINDINGS = [
        *(Binding(key, action, show=False) for key, action, _, _ in SCREEN_KEYS),
        Binding("question_mark,f1", "keys", show=False),
    ]

    def compose(self) -> ComposeResult:
        yield Pane(id="top")
        with Horizontal(id="middle"):
            yield RoundList(id="batches")
            yield Detail(id="detail")
        yield ReadingForm()
        yield Pane(id="says")
        yield Pane(id="foot")

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
        self._draw_foot(LIST_FOOT)
        tag = self.query_one(BatchList).tag
        form = self.query_one(ReadingForm)
        form.set_degrees(first.degrees)
        form.load(tag, form_title(tag, first.read_only), self.drafts.get(tag, {}) if tag else {})
        form.show_draft(Draft(empty=True), HINT)
        if self.drafts:
            tags = ", ".join(visible(tag) for tag in self.drafts)
            self.say(f"typed and not saved last time, still here: {tags}", "watch")
        # Not at once: the first frame is still being written, by a thread that has to share this process's time.
        self.call_after_refresh(lambda: self.set_timer(FIRST_REST, self._complete))

    async def _complete(self) -> None:
        await self.query_one(ReadingForm).make_ready()
        self.redraw()
        self.program.release_keys()
        self.set_interval(POLL_SECONDS, self._poll)
        gc.freeze()
        gc.enable()

    def on_resize(self, event: Resize) -> None:
        """Lays out anew for the new size."""
        self.set_class(event.size.width >= WIDE, "-wide")
        self.set_class(event.size.width < NARROW, "-narrow")
        if self._taken is not None:
            self._draw_top(frame_of(self.look))
            self._focus_moved()

    @on(Detail.Widened)
    def _widened(self) -> None:
        if self._taken is not None:
            self.draw_batch()

    @on(DescendantFocus)
    @on(DescendantBlur)
    def _focus_moved(self) -> None:
        self._draw_foot(LIST_FOOT if self.query_one(BatchList).has_focus else FORM_FOOT)

    def _draw_foot(self, text: str) -> None:
        self.query_one("#foot", Pane).show([((f" {foot_within(text, self.app.size.width - 1)}", "dim"),)])

    @on(ReadingForm.Edited)
    def _edited(self, message: ReadingForm.Edited) -> None:
        if message.tag is None:
            return
        if message.tag == self.said_about:
            self.say("")
        had = message.tag in self.drafts
        if message.fields:
            self.drafts[message.tag] = dict(message.fields)
        else:
            self.drafts.pop(message.tag, None)
        if had != bool(message.fields):
            self._mark_rows()
        self._echo()
        self.keep_soon()

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

    def _poll(self) -> None:
        if self.program.is_terminal_gone():
            self.action_quit()
            return
        try:
            if self.look.is_stale():
                self.see_again(reorder=not self.drafts and self.query_one(BatchList).has_focus)
        except Exception as error:
            self.say(f"the cellar cannot be read: {error}", "danger")

    def action_filter(self) -> None:
        """Asks for the words that batches must match."""
        from mustwatch.screens.typing_screen import Typing

        self.app.push_screen(
            Typing(
                "Show only batches that match",
                self.words,
                says=["part of a tag, name, stage or severity; empty shows all"],
            ),
            self._filtered,
        )

    def _filtered(self, words: str | None) -> None:
        if words is not None:
            self.words = words.strip()
            self.redraw()

    def action_reorder(self) -> None:
        """Orders the list anew, after a new look."""
        self.see_again(reorder=True)
        self.query_one(BatchList).move_to(0)

    def action_ended(self) -> None:
        """Shows or hides ended batches."""
        self.with_ended = not self.with_ended
        self.redraw()
        self.say("ended batches are shown" if self.with_ended else "ended batches are hidden")

    def action_page(self, by: int) -> None:
        """Moves the detail pane by a page."""
        self.query_one(Detail).page(by)

    def action_jump(self, by: int) -> None:
        """Moves the detail pane to another part."""
        self.query_one(Detail).jump(by)

    def action_keys(self) -> None:
        """Opens the page of keys."""
        from mustwatch.screens.help import keys_page

        self.app.push_screen(keys_page())

    def action_bench(self) -> None:
        """Opens the calculators."""
        from mustwatch.screens.bench.screen import BenchScreen

        self.app.push_screen(BenchScreen(self.look.settings))

    def action_quit(self) -> None:
        """Ends the round; what was typed and not saved is kept."""
        self.keep_now()
        self.app.exit()
