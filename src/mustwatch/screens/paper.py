"""A page of text over the screen, to be read and left."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import Screen

from mustwatch.screens.ink import Line
from mustwatch.screens.pane import Pane

NARROWEST = 24  # cells; below it words would be broken


class PaperText(Pane):
    """The text of the page, wrapped to what the pane has."""

    more_hint = "PgDn"

    def __init__(self, lines_at: Callable[[int], Sequence[Line]], *, id: str) -> None:
        super().__init__(id=id)
        self.lines_at = lines_at

    def on_resize(self) -> None:
        """Wraps the text anew for the new width."""
        self.show(self.lines_at(max(NARROWEST, self.size.width)))


class Paper(Screen[None]):
    """Lines of text, made for the width there is; arrows and PgUp/PgDn move over them, escape or q leaves."""

    BINDINGS = [
        Binding("escape,q,question_mark,f1", "dismiss(None)", show=False),
        Binding("up,k", "move(-1)", show=False),
        Binding("down,j", "move(1)", show=False),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown,space", "page(1)", show=False),
    ]

    def __init__(self, lines_at: Callable[[int], Sequence[Line]]) -> None:
        super().__init__()
        self.lines_at = lines_at

    def compose(self) -> ComposeResult:
        yield PaperText(self.lines_at, id="paper")
        yield Pane(id="foot")

    def on_mount(self) -> None:
        """Says how to move over the page."""
        self.query_one("#foot", Pane).show([((" up/down PgUp/PgDn move  esc back", "dim"),)])

    def action_move(self, by: int) -> None:
        """Moves by lines."""
        self.query_one(PaperText).scroll_lines(by)

    def action_page(self, by: int) -> None:
        """Moves by pages."""
        paper = self.query_one(PaperText)
        paper.scroll_lines(by * max(1, paper.size.height - 2))
