"""One line of typing over the screen."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen

from mustwatch.screens.entry_input import EntryInput
from mustwatch.screens.ink import line, wrapped
from mustwatch.screens.pane import Pane


class Typing(ModalScreen[str | None]):
    """One line of typing, checked by `check`, which answers with what is amiss or nothing; escape gives none."""

    BINDINGS = [Binding("escape", "dismiss(None)", show=False)]

    def __init__(
        self, title: str, text: str = "", *, says: Sequence[str] = (), check: Callable[[str], str] = lambda text: ""
    ) -> None:
        super().__init__()
        self.title_text, self.text, self.says, self.check = title, text, tuple(says), check

    def compose(self) -> ComposeResult:
        with Vertical(classes="asking"):
            yield Pane(id="asked")
            yield EntryInput(self.text, id="answer")
            yield Pane(id="amiss")
            yield Pane(id="typing-foot")

    def on_mount(self) -> None:
        """Draws the question."""
        width = max(20, self.app.size.width - 8)
        lines = wrapped(self.title_text, width, "strong")
        for text in self.says:
            lines += wrapped(text, width)
        pane = self.query_one("#asked", Pane)
        pane.styles.height = len(lines)
        pane.show(lines)
        self.query_one("#typing-foot", Pane).show([line("enter takes it, escape leaves it", "dim")])

    def on_input_submitted(self, event: EntryInput.Submitted) -> None:
        """Gives the text, unless something is amiss with it."""
        event.stop()
        if amiss := self.check(event.value):
            self.query_one("#amiss", Pane).show([line(f"! {amiss}", "danger")])
        else:
            self.dismiss(event.value)
