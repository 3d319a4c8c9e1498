"""The batch list: rows with a cursor, moved over by keys or a click."""

from textual import events
from textual.binding import Binding
from textual.message import Message

from mustwatch.screens.ink import padded
from mustwatch.screens.pane import Pane, Row
from mustwatch.screens.round.keys import JUMP_KEYS, LIST_KEYS
from mustwatch.screens.round.rows import drawn, heading
from mustwatch.screens.round.shown import Shown

LEAST_LINES = 3


class BatchList(Pane, can_focus=True):
    """Rows under a heading; the row of the cursor stands reversed and is marked with > on its left."""

    BINDINGS = [
        Binding("up,k", "move(-1)", show=False),
        Binding("down,j", "move(1)", show=False),
        Binding("home", "move(-9999)", show=False),
        Binding("end", "move(9999)", show=False),
        *(Binding(key, f"screen.act('{act}')", show=False) for key, act, _, _ in (*LIST_KEYS, *JUMP_KEYS)),
    ]

    class Moved(Message):
        """The cursor stands on another batch."""

    class Chosen(Message):
        """A row was clicked that the cursor already stood on."""

    def __init__(self, shown: Shown, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.shown = shown

    def move_to(self, place: int) -> None:
        """Puts the cursor on a row and says so."""
        if self.shown.move_to(place):
            self.follow()
            self.post_message(self.Moved())

    def action_move(self, by: int) -> None:
        """Moves the cursor by so many rows."""
        self.move_to(self.shown.cursor + by)

    @property
    def _note_line(self) -> int | None:
        """Where the note stands: under the rows, or over the heading where there is hardly a row."""
        if not self.shown.note:
            return None
        return self.size.height - 1 if self.size.height > LEAST_LINES else 0

    def follow(self) -> None:
        """Draws the rows as they are now, the cursor in sight."""
        room, cursor = max(1, self.size.height - (2 if self._note_line else 1)), self.shown.cursor
        if cursor < self.top:
            self.top = cursor
        elif cursor >= self.top + room:
            self.top = cursor - room + 1
        self.top = max(0, min(self.top, len(self.shown.rows) - room))
        self.refresh_rows()

    def on_resize(self) -> None:
        """Keeps the cursor in sight."""
        self.follow()

    def on_click(self, event: events.Click) -> None:
        """A click moves the cursor; a click on the cursor's own row opens the form."""
        place = self.top + event.y - 1
        if event.y < 1 or event.y == self._note_line or place >= len(self.shown.rows):
            return
        if place == self.shown.cursor:
            self.post_message(self.Chosen())
        self.move_to(place)

    def row(self, y: int) -> Row:
        """The heading, a row, or nothing."""
        width, rows = self.size.width, self.shown.rows
        if y == self._note_line:
            return ((padded(f" {self.shown.note}", width), "watch"),), ""
        if y == 0:
            return heading(width - 1), ""
        place = self.top + y - 1
        if place >= len(rows):
            return (((f" {self.shown.empty}", "dim"),) if y == 2 and not rows else ()), ""
        here = place == self.shown.cursor
        line = ((">" if here else " ", "strong"), *drawn(rows[place], width - 1, self.shown.look.now))
        return line, "cursor" if here else ""
