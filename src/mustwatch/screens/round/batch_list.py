"""The batch list: rows with a cursor, moved over by keys or a click."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from textual import events
from textual.binding import Binding
from textual.message import Message
from textual.strip import Strip

from mustwatch.screens.ink import padded
from mustwatch.screens.pane import Pane
from mustwatch.screens.round.rows import Row, drawn, heading

LEAST_LINES = 3


class BatchList(Pane, can_focus=True):
    """Rows under a heading; the row of the cursor stands reversed and is marked with > on its left."""

    BINDINGS = [
        Binding("up,k", "move(-1)", show=False),
        Binding("down,j", "move(1)", show=False),
        Binding("home", "move(-9999)", show=False),
        Binding("end", "move(9999)", show=False),
    ]

    @dataclass
    class Moved(Message):
        """The cursor stands on another batch."""

        tag: str

    @dataclass
    class Chosen(Message):
        """A row was clicked that the cursor already stood on."""

        tag: str

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.rows: Sequence[Row] = ()
        self.cursor = 0
        self.now: datetime | None = None
        self.empty = ""
        self.note = ""

    @property
    def tag(self) -> str | None:
        """The tag under the cursor."""
        return self.rows[self.cursor].tag if self.rows else None

    def set_rows(self, rows: Sequence[Row], now: datetime, tag: str | None, empty: str = "", note: str = "") -> None:
        """Other rows, with the cursor on `tag` where it is among them. note: what the last line says of the list."""
        self.rows, self.now, self.empty, self.note = rows, now, empty, note
        place = next((number for number, row in enumerate(rows) if row.tag == tag), None)
        self.cursor = place if place is not None else max(0, min(self.cursor, len(rows) - 1))
        self._follow()

    def move_to(self, place: int) -> None:
        """Puts the cursor on a row and says so."""
        place = max(0, min(place, len(self.rows) - 1))
        if self.rows and place != self.cursor:
            self.cursor = place
            self._follow()
            self.post_message(self.Moved(self.rows[place].tag))

    def action_move(self, by: int) -> None:
        """Moves the cursor by so many rows."""
        self.move_to(self.cursor + by)

    @property
    def _note_line(self) -> int | None:
        """Where the note stands: under the rows, or over the heading where there is hardly a row."""
        if not self.note:
            return None
        return self.size.height - 1 if self.size.height > LEAST_LINES else 0

    def _follow(self) -> None:
        room = max(1, self.size.height - (2 if self._note_line else 1))
        if self.cursor < self.top:
            self.top = self.cursor
        elif self.cursor >= self.top + room:
            self.top = self.cursor - room + 1
        self.top = max(0, min(self.top, len(self.rows) - room))
        self.refresh()

    def on_resize(self, event: events.Resize) -> None:
        """Keeps the cursor in sight."""
        self._follow()

    def on_click(self, event: events.Click) -> None:
        """A click moves the cursor; a click on the cursor's own row opens the form."""
        place = self.top + event.y - 1
        if event.y < 1 or event.y == self._note_line or place >= len(self.rows):
            return
        if place == self.cursor:
            self.post_message(self.Chosen(self.rows[place].tag))
        self.move_to(place)

    def render_line(self, y: int) -> Strip:
        """The heading, a row, or nothing."""
        width = self.size.width
        if y == self._note_line:
            return self.drawn(((padded(self.note, width), "watch"),), width)
        if y == 0:
            return self.drawn(heading(width - 1), width)
        place = self.top + y - 1
        if place >= len(self.rows) or self.now is None:
            return self.drawn(((self.empty, "dim"),) if y == 2 and not self.rows else (), width)
        here = place == self.cursor
        line = ((">" if here else " ", "strong"), *drawn(self.rows[place], width - 1, self.now))
        return self.drawn(line, width, "cursor" if here else "")
