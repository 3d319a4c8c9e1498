"""The list of calculations, moved over by keys or a click."""

from collections.abc import Sequence
from dataclasses import dataclass

from textual import events
from textual.binding import Binding
from textual.message import Message
from textual.strip import Strip

from mustwatch.screens.pane import Pane


class CalcList(Pane, can_focus=True):
    """Names with a cursor; the row of the cursor stands reversed and is marked with > on its left."""

    BINDINGS = [
        Binding("up,k", "move(-1)", show=False),
        Binding("down,j", "move(1)", show=False),
        Binding("home", "move(-99)", show=False),
        Binding("end", "move(99)", show=False),
        Binding("enter,right,l", "choose", show=False),
    ]

    @dataclass
    class Moved(Message):
        """The cursor stands on another calculation."""

        name: str

    @dataclass
    class Chosen(Message):
        """The user wants to fill in the form."""

    def __init__(self, names: Sequence[str], *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.names = tuple(names)
        self.cursor = 0

    @property
    def chosen(self) -> str:
        """The name under the cursor."""
        return self.names[self.cursor]

    def action_move(self, by: int) -> None:
        """Moves the cursor, as far as there are rows."""
        place = max(0, min(self.cursor + by, len(self.names) - 1))
        if place != self.cursor:
            self.cursor = place
            self.refresh()
            self.post_message(self.Moved(self.chosen))

    def action_choose(self) -> None:
        """Goes to the form."""
        self.post_message(self.Chosen())

    def on_click(self, event: events.Click) -> None:
        """A click puts the cursor on a row."""
        self.action_move(event.y - self.cursor)

    def render_line(self, y: int) -> Strip:
        """One name."""
        width = self.size.width
        if y >= len(self.names):
            return self.drawn((), width)
        here = y == self.cursor
        text = f"{'>' if here else ' '}{self.names[y]}".ljust(width)
        return self.drawn(((text, ""),), width, "cursor" if here else "")
