"""Small questions over the screen: one of several answers, or one line of typing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen

from mustwatch.ledger.visible import visible
from mustwatch.screens.ink import Line, line, wrapped
from mustwatch.screens.pane import Pane


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer: the letter that gives it, its words, its value, and a caution shown while it is marked."""

    letter: str
    words: str
    value: str
    caution: str = ""


class Choosing(ModalScreen[str | None]):
    """One of several answers, by its letter or by arrows and enter; escape gives none."""

    BINDINGS = [
        Binding("escape", "dismiss(None)", show=False),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
        Binding("enter", "take", show=False),
    ]

    def __init__(self, title: str, answers: Sequence[Answer], *, says: Sequence[str] = (), start: str = "") -> None:
        super().__init__()
        self.title_text, self.answers, self.says = title, tuple(answers), tuple(says)
        self.marked = next((place for place, one in enumerate(answers) if one.value == start), 0)

    def compose(self) -> ComposeResult:
        with Vertical(classes="asking"):
            yield Pane(id="asked")

    def on_mount(self) -> None:
        """Draws the question."""
        self._draw()

    def on_resize(self) -> None:
        """Draws it anew for the new width."""
        self._draw()

    def on_key(self, event: events.Key) -> None:
        """A letter gives its answer."""
        for place, one in enumerate(self.answers):
            if event.character and event.character == one.letter:
                event.stop()
                self.marked = place
                self._draw()
                if not one.caution:
                    self.dismiss(one.value)

    def action_move(self, by: int) -> None:
        """Marks another answer."""
        self.marked = (self.marked + by) % len(self.answers)
        self._draw()

    def action_take(self) -> None:
        """Gives the marked answer."""
        self.dismiss(self.answers[self.marked].value)

    def _draw(self) -> None:
        width = max(20, self.app.size.width - 8)
        lines: list[Line] = wrapped(self.title_text, width, "strong")
        for text in self.says:
            lines += wrapped(text, width)
        caution = self.answers[self.marked].caution if self.answers else ""
        below = wrapped(caution, width, "danger", "!! ", "   ") if caution else []
        below += (line("enter takes it, escape leaves it", "dim"),)
        room = max(4, self.app.size.height - 4)
        # Where not all fits, what is said gives way first, then the answers far from the marked one; a caution never.
        lines = lines[: max(1, room - len(below) - len(self.answers))]
        lines += self._around_marked(max(1, room - len(below) - len(lines)))
        lines += below
        pane = self.query_one("#asked", Pane)
        pane.styles.height = min(len(lines), room)
        pane.show(lines, top=0)

    def _around_marked(self, room: int) -> list[Line]:
        """As many answers as there is room for, the marked one among them."""
        first = max(0, min(self.marked - room // 2, len(self.answers) - room))
        lines: list[Line] = []
        for place, one in list(enumerate(self.answers))[first : first + room]:
            here = place == self.marked
            mark = ">" if here else " "
            lines.append(((f"{mark} {one.letter}  ", "strong"), (visible(one.words), "cursor" if here else "")))
        return lines
