"""Small questions over the screen: one of several answers, or one line of typing."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen

from mustwatch.ledger.visible import visible
from mustwatch.screens.ink import Line, line, wrapped
from mustwatch.screens.inputs import EntryInput
from mustwatch.screens.pane import Pane

WAY_OUT = "enter takes it, escape leaves it"


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer: the letter that gives it, its words, its value, and a caution shown while it is marked."""

    letter: str
    words: str
    value: str
    caution: str = ""


class Question(ModalScreen[str | None]):
    """A question with its title and what is said to it; escape gives no answer."""

    BINDINGS = [Binding("escape", "dismiss(None)", show=False)]

    def __init__(self, title: str, says: Sequence[str]) -> None:
        super().__init__()
        self.title_text, self.says = title, tuple(says)

    def compose(self) -> ComposeResult:
        with Vertical(classes="asking"):
            yield Pane(id="asked")

    def on_mount(self) -> None:
        """Draws the question."""
        self.draw()

    def on_resize(self) -> None:
        """Draws it anew for the new width."""
        self.draw()

    def draw(self) -> None:
        """Draws the question."""
        self.show(self.asked())

    def asked(self) -> list[Line]:
        """The title and what is said to it, wrapped."""
        lines = wrapped(self.title_text, self.width, "strong")
        for text in self.says:
            lines += wrapped(text, self.width)
        return lines

    @property
    def width(self) -> int:
        """Cells there are for a line of the question."""
        return max(20, self.app.size.width - 8)

    def show(self, lines: Sequence[Line]) -> None:
        """Shows the lines of the question in a pane just as high, where there is room."""
        pane = self.query_one("#asked", Pane)
        pane.styles.height = min(len(lines), max(4, self.app.size.height - 4))
        pane.show(lines, top=0)


class Choosing(Question):
    """One of several answers, by its letter or by arrows and enter."""

    BINDINGS = [
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
        Binding("enter", "take", show=False),
    ]

    def __init__(self, title: str, answers: Sequence[Answer], *, says: Sequence[str] = (), start: str = "") -> None:
        super().__init__(title, says)
        self.answers = tuple(answers)
        self.marked = next((place for place, one in enumerate(answers) if one.value == start), 0)

    def on_key(self, event: events.Key) -> None:
        """A letter gives its answer."""
        for place, one in enumerate(self.answers):
            if event.character and event.character == one.letter:
                event.stop()
                self.marked = place
                self.draw()
                if not one.caution:
                    self.dismiss(one.value)

    def action_move(self, by: int) -> None:
        """Marks another answer."""
        self.marked = (self.marked + by) % len(self.answers)
        self.draw()

    def action_take(self) -> None:
        """Gives the marked answer."""
        self.dismiss(self.answers[self.marked].value)

    def draw(self) -> None:
        """The question, the answers, and the caution of the marked one."""
        caution = self.answers[self.marked].caution if self.answers else ""
        below = wrapped(caution, self.width, "danger", "!! ", "   ") if caution else []
        below.append(line(WAY_OUT, "dim"))
        room = max(4, self.app.size.height - 4)
        # Where not all fits, what is said gives way first, then the answers far from the marked one; a caution never.
        lines = self.asked()[: max(1, room - len(below) - len(self.answers))]
        self.show([*lines, *self._around_marked(max(1, room - len(below) - len(lines))), *below])

    def _around_marked(self, room: int) -> list[Line]:
        """As many answers as there is room for, the marked one among them."""
        first = max(0, min(self.marked - room // 2, len(self.answers) - room))
        lines: list[Line] = []
        for place, one in list(enumerate(self.answers))[first : first + room]:
            here = place == self.marked
            mark = ">" if here else " "
            lines.append(((f"{mark} {one.letter:1}  ", "strong"), (visible(one.words), "cursor" if here else "")))
        return lines


class Typing(Question):
    """One line of typing, checked by `check`, which answers with what is amiss or nothing."""

    def __init__(
        self, title: str, text: str = "", *, says: Sequence[str] = (), check: Callable[[str], str] = lambda text: ""
    ) -> None:
        super().__init__(title, says)
        self.text, self.check = text, check

    def compose(self) -> ComposeResult:
        with Vertical(classes="asking"):
            yield Pane(id="asked")
            yield EntryInput(self.text, id="answer")
            yield Pane(id="amiss")
            yield Pane(id="typing-foot")

    def on_mount(self) -> None:
        """Says the way out."""
        self.query_one("#typing-foot", Pane).show([line(WAY_OUT, "dim")])

    def on_input_submitted(self, event: EntryInput.Submitted) -> None:
        """Gives the text, unless something is amiss with it."""
        event.stop()
        if amiss := self.check(event.value):
            self.query_one("#amiss", Pane).show([line(f"! {amiss}", "danger")])
        else:
            self.dismiss(event.value)
