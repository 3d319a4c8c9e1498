"""The round's screen: its widgets, the parts behind its keys, and what goes between them."""

import gc
import os
from collections.abc import Callable
from contextlib import ExitStack
from typing import TypeVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, Vertical
from textual.events import DescendantBlur, DescendantFocus, Resize
from textual.message import Message
from textual.screen import Screen
from textual.timer import Timer

from mustwatch.ledger.visible import visible
from mustwatch.said.figures import degree_sign
from mustwatch.screens.ink import padded
from mustwatch.screens.look import Look
from mustwatch.screens.pane import INK_CLASSES, Pane
from mustwatch.screens.round.attending import Attending
from mustwatch.screens.round.batch_list import BatchList
from mustwatch.screens.round.beyond import Beyond
from mustwatch.screens.round.detail import CoursePane, Detail
from mustwatch.screens.round.entries import Entries
from mustwatch.screens.round.keys import FORM_FOOT, LIST_FOOT, SCREEN_KEYS, foot_within
from mustwatch.screens.round.listing import Listing
from mustwatch.screens.round.opener import Opener
from mustwatch.screens.round.reading_form import ReadingForm
from mustwatch.screens.round.recorder import Recorder
from mustwatch.screens.round.shown import Shown
from mustwatch.screens.round.top import top_line
from mustwatch.screens.unsent import Unsent

WIDE, NARROW = 110, 76  # cells
TALL = 36  # lines; a wide screen so tall shows the course beside whatever is read
POLL_SECONDS = 1.0
FIRST_REST = 0.03
KEEP_AFTER = 1.0  # seconds of rest after typing before it is kept on disk

Answer = TypeVar("Answer")


class RoundScreen(Screen[None]):
    """The daily check. Keys go to the parts by the names in `keys`; the parts ask this screen through `Desk`."""

    COMPONENT_CLASSES = INK_CLASSES
    BINDINGS = [Binding(key, f"act('{act}')", show=False) for key, act, _, _ in SCREEN_KEYS]

    class Ready(Message):
        """All that keys may act on is there."""

    def __init__(self, look: Look, unsent: Unsent) -> None:
        super().__init__()
        self.look, self.unsent = look, unsent
        self.shown = Shown(look, unsent.drafts)
        self._entries = Entries(self.shown, Recorder(look), self)
        self._listing = Listing(self.shown, self)
        self._batches = BatchList(self.shown, id="batches")
        self._detail = Detail(look, id="detail")
        self._course = CoursePane(look, id="course")
        self._form = ReadingForm(degree_sign(look.settings))
        self._acts = self._wired()
        self._said_about = self._trouble = ""
        self._keep_timer: Timer | None = None

    def _wired(self) -> dict[str, Callable[..., None]]:
        entries, listing = self._entries, self._listing
        opener = Opener(self.shown, entries, self)
        attending = Attending(self.shown, entries, opener, self)
        beyond = Beyond(self.shown, opener, self)
        return {
            "fill": entries.fill, "looked": entries.looked, "did": entries.did, "saw": entries.saw,
            "undo": entries.undo, "closure": opener.closure, "form": opener.form, "acts": opener.acts,
            "do": attending.do, "explain": attending.explain, "hush": attending.hush,
            "ahead": beyond.ahead, "shelf": beyond.shelf,
            "filter": listing.filter, "reorder": listing.reorder, "ended": listing.ended,
            "page": lambda by: self._detail.scroll_pages(int(by)), "jump": lambda by: self._detail.jump(int(by)),
            "bench": self._bench, "leave": self._leave,
        }  # fmt: skip

    def compose(self) -> ComposeResult:
        yield Pane(id="top")
        with Horizontal(id="middle"):
            yield self._batches
            with Vertical(id="side"):
                yield self._detail
                yield self._course
        yield self._form
        yield Pane(id="says")
        yield Pane(id="foot")

    def on_mount(self) -> None:
        """Draws the first frame; what it can do without follows it."""
        self.set_focus(self._batches)
        self.draw()
        if self.shown.drafts:
            tags = ", ".join(visible(tag) for tag in self.shown.drafts)
            self.say(f"typed and not saved last time, still here: {tags}", "watch")
        # Until all sizes are known the screen would be written three times over.
        held = ExitStack()
        held.enter_context(self.app.batch_update())
        self.call_after_refresh(self._first_frame, held)

    def _first_frame(self, held: ExitStack) -> None:
        held.close()
        self.refresh(layout=True)
        # Not at once: the first frame is still being written, by a thread that has to share this process's time.
        self.call_after_refresh(lambda: self.set_timer(FIRST_REST, self._complete))

    async def _complete(self) -> None:
        await self._form.make_ready()
        self._detail.go_on()
        self.post_message(self.Ready())
        self.set_interval(POLL_SECONDS, self._poll)
        gc.freeze()
        gc.enable()

    def on_resize(self, event: Resize) -> None:
        """Lays out anew for the new size."""
        self.set_class(event.size.width >= WIDE, "-wide")
        self.set_class(event.size.width < NARROW, "-narrow")
        roomy = event.size.width >= WIDE and event.size.height >= TALL
        self.set_class(roomy, "-tall")
        self._detail.set_course(self._course if roomy else None)

    @on(DescendantFocus)
    @on(DescendantBlur)
    def _draw_foot(self) -> None:
        text = LIST_FOOT if self._batches.has_focus else FORM_FOOT
        self.query_one("#foot", Pane).show(lambda width: [((f" {foot_within(text, width - 1)}", "dim"),)])

    def say(self, text: str, role: str = "", *, about: str = "") -> None:
        """One line above the foot, until the next one, or until something else is typed for the batch it is about."""
        self._said_about = about
        self.query_one("#says", Pane).show(lambda width: [((f" {padded(text, width - 2).rstrip()}", role),)])

    def draw(self) -> None:
        """Draws the look as it is now; the cursor stays with its batch."""
        self._draw_list()
        self._draw_batch()
        self.query_one("#top", Pane).show(lambda width: [top_line(self.look, width)])
        if self.look.trouble != self._trouble:
            self._trouble = self.look.trouble
            self.say(self._trouble or "the ledger is in order again", "danger" if self._trouble else "good")

    def _draw_list(self) -> None:
        self.shown.arrange(hold=not self._batches.has_focus)
        self._batches.follow()

    @on(BatchList.Moved)
    def _draw_batch(self) -> None:
        self._detail.show_batch(self.shown.batch)
        self._form.load(self.shown.tag, self.look.read_only or "", self.shown.fields)
        self._form.show_draft(self.shown.draft())

    def ask(self, question: Screen[Answer], then: Callable[[Answer | None], None] | None = None) -> None:
        """Puts a question or a page over the screen."""
        self.app.push_screen(question, then)

    def fill(self, field: str, text: str = "") -> None:
        """Puts the cursor into a field of the form, writing `text` there where it is given."""
        if text:
            self._form.put(field, text)
        self._form.focus_field(field)

    def action_act(self, act: str) -> None:
        """Does what a key of `keys` stands for."""
        name, *about = act.split()
        self._acts[name](*about)

    def _bench(self) -> None:
        from mustwatch.screens.bench.screen import BenchScreen

        self.ask(BenchScreen(self.look.settings))

    def _leave(self) -> None:
        self.call_later(self.app.run_action, "leave")

    @on(ReadingForm.Edited)
    def _edited(self, message: ReadingForm.Edited) -> None:
        if message.tag is None:
            return
        if message.tag == self._said_about:
            self.say("")
        if self.shown.keep(message.tag, dict(message.fields)):
            self._draw_list()
        self._form.show_draft(self.shown.draft())
        if self._keep_timer is not None:
            self._keep_timer.stop()
        self._keep_timer = self.set_timer(KEEP_AFTER, self._keep)

    def _keep(self) -> None:
        if fault := self.unsent.keep():
            self.say(fault, "danger")

    @on(ReadingForm.Submitted)
    def _submitted(self) -> None:
        self._entries.save_draft()
        self._keep()

    @on(ReadingForm.Left)
    def _left(self) -> None:
        self.set_focus(self._batches)

    @on(ReadingForm.Other)
    def _other(self, message: ReadingForm.Other) -> None:
        if self.shown.move_to(self.shown.cursor + message.by):
            self._batches.follow()
            self._draw_batch()

    @on(BatchList.Chosen)
    def _chosen(self) -> None:
        self._entries.fill("gravity")

    def _poll(self) -> None:
        if not self.app.is_headless and _is_terminal_gone():
            self._leave()
        else:
            self._listing.catch_up(reorder=not self.shown.drafts and self._batches.has_focus)


def _is_terminal_gone() -> bool:
    """Whether the terminal was closed without a signal reaching the program."""
    try:
        os.get_terminal_size(0)
    except OSError:
        return True
    return False
