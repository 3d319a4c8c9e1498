"""A form over the round: what is typed is understood and judged while it is typed, and saved by ctrl+s."""

from __future__ import annotations

from collections.abc import Callable, MutableMapping, Sequence
from typing import TYPE_CHECKING

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.message import Message
from textual.screen import Screen
from textual.timer import Timer
from textual.widgets import Input

from mustwatch.deeds.deed import Deed, Understood, understood
from mustwatch.deeds.foresight import Foresight, foreseen
from mustwatch.screens.forms.row import Row, row_of
from mustwatch.screens.forms.told import told_lines
from mustwatch.screens.ink import Line, line, padded, wrapped
from mustwatch.screens.inputs import Choice
from mustwatch.screens.pane import Pane
from mustwatch.screens.round.keys import foot_within

if TYPE_CHECKING:
    from mustwatch.ledger.events import Event
    from mustwatch.screens.look import Look

REST = 0.2  # seconds of rest after typing before the rules are asked
FOOT = "ctrl+s save  esc leave  tab next  PgDn more  ctrl+l empty  F1 keys"
LEAST_TOLD = 5  # lines under the fields, with the blank one above them
FRAME = 3  # lines above and below the fields: the title, what is said, the foot
LEAST_ROWS = 3
ONCE_MORE = "not saved yet: that would be a danger. ctrl+s once more records it all the same"


class FormScreen(Screen[None]):
    """The form of a deed, for one batch or for none.

    texts: what is typed, kept by the caller when the form is left; save: saves, and answers with what went
    wrong or nothing. A danger that would follow stops the first ctrl+s, for it must have been read; never the
    second, since what has happened must be recordable.
    """

    CSS_PATH = "forms.tcss"
    AUTO_FOCUS = ""
    BINDINGS = [
        Binding("escape", "leave", show=False),
        Binding("ctrl+s", "save", show=False),
        Binding("ctrl+l", "empty", show=False),
        Binding("down", "step(1)", show=False),
        Binding("up", "step(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
        Binding("pageup", "page(-1)", show=False),
    ]

    def __init__(
        self,
        deed: Deed,
        tag: str | None,
        look: Look,
        texts: MutableMapping[str, str],
        save: Callable[[Sequence[Event]], str],
    ) -> None:
        super().__init__()
        self.deed, self._tag, self.look, self.texts, self._save = deed, tag, look, texts, save
        self._meant = Understood()
        self._ahead: Foresight | None = None
        self._was_warned = False
        self._timer: Timer | None = None

    def compose(self) -> ComposeResult:
        yield Pane(id="form-top")
        yield Pane(id="form-cautions")
        with Vertical(id="form-rows"):
            for field in self.deed.fields:
                yield Row(field, self.texts.get(field.name, ""), self.look.settings)
        yield Pane(id="form-told", more_hint="PgDn")
        yield Pane(id="form-says")
        yield Pane(id="form-foot")

    def on_mount(self) -> None:
        """Draws the form, the cursor in the first field that is still empty."""
        rows = list(self.query(Row))
        self.set_focus(next((row for row in rows if not row.entry.value), rows[0]).entry)
        self._take()

    def on_resize(self) -> None:
        """Wraps everything anew for the new width."""
        self.call_after_refresh(self._draw)

    @on(Input.Changed)
    @on(Choice.Changed)
    def _changed(self, event: Message) -> None:
        event.stop()
        self._take()

    def _take(self) -> None:
        self._understand()
        self._ahead, self._was_warned = None, False
        self._draw()
        self._say("")
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(REST, self._look_ahead)

    def _understand(self) -> None:
        for row in self.query(Row):
            self.texts[row.field.name] = row.entry.value
        self._ground = self.look.ground(self._tag)
        self._meant = understood(self.deed, self.texts, self._ground)

    def _look_ahead(self) -> None:
        if self._meant.faults or self._ahead is not None:
            return
        self._ahead = foreseen(self._ground, self._meant.events)
        self._draw()

    def _draw(self) -> None:
        width = max(24, self.size.width - 2)
        title = f" {self.deed.name}{f' {self._tag}' if self._tag else ''}: {self.deed.title}"
        self.query_one("#form-top", Pane).show([line(padded(title, self.size.width), "")])
        for row in self.query(Row):
            name = row.field.name
            row.show_fault("" if name in self._meant.wanting else self._meant.faults.get(name, ""))
        cautions: list[Line] = []
        for text in self._meant.cautions:
            cautions += wrapped(text, width, "danger", " !! ", "    ")
        told = told_lines(self.deed, self._meant, self._ahead, width)
        room, rows = self.size.height - FRAME, len(self.deed.fields)
        if len(cautions) + rows + LEAST_TOLD > room:
            # Where there is no room for them above the fields, they lead what can be paged through below.
            has_mistake = self._meant.faults.keys() - self._meant.wanting
            cautions, told = [], [*told, *cautions] if has_mistake else [*cautions, *told]
        pane = self.query_one("#form-cautions", Pane)
        pane.styles.height = len(cautions)
        pane.show(cautions, top=0)
        self.query_one("#form-rows").styles.height = min(rows, max(LEAST_ROWS, room - LEAST_TOLD))
        self.query_one("#form-told", Pane).show(told, top=0)
        self.query_one("#form-foot", Pane).show([line(f" {foot_within(FOOT, self.size.width - 1)}", "dim")])
        if self.focused is not None:
            self.call_after_refresh(self.focused.scroll_visible, animate=False)

    def _say(self, text: str) -> None:
        self.query_one("#form-says", Pane).show([line(f" {text}", "danger")])

    @on(Input.Submitted)
    @on(Choice.Submitted)
    def _onward(self, event: Message) -> None:
        event.stop()
        self.action_step(1)

    def action_step(self, by: int) -> None:
        """Goes a field on or back, as far as there are any."""
        rows, here = list(self.query(Row)), row_of(self.focused)
        place = rows.index(here) + by if here in rows else 0
        if 0 <= place < len(rows):
            self.set_focus(rows[place].entry)

    def action_page(self, by: int) -> None:
        """Moves over what stands under the fields."""
        self.query_one("#form-told", Pane).scroll_pages(by)

    def action_empty(self) -> None:
        """Empties all fields."""
        for row in self.query(Row):
            row.entry.value = ""
        self.set_focus(self.query(Row).first().entry)

    def action_save(self) -> None:
        """Saves; on any doubt nothing is saved and nothing is lost."""
        self._understand()
        self._look_ahead()
        if self._meant.faults:
            name, fault = next(iter(self._meant.faults.items()))
            row = next(row for row in self.query(Row) if row.field.name == name)
            row.show_fault(fault)
            self.set_focus(row.entry)
            self._say(f"not saved: {row.label}: {fault}")
        elif self._ahead is not None and self._ahead.asks_twice and not self._was_warned:
            self._was_warned = True
            self._say(ONCE_MORE)
        elif fault := self._save(self._meant.events):
            self._say(fault)
        else:
            self.texts.clear()
            self.dismiss(None)

    def action_leave(self) -> None:
        """Back to the round; what was typed stays for the next time the form is opened."""
        self.dismiss(None)
