"""A page of text over the screen, to be read and left."""

from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import Screen

from mustwatch.screens.pane import LinesAt, Pane

NARROWEST = 24  # cells; below it words would be broken


class Paper(Screen[None]):
    """Lines of text, made for the width there is; arrows and PgUp/PgDn move over them, escape or q leaves."""

    BINDINGS = [
        Binding("escape,q,question_mark,f1", "dismiss(None)", show=False),
        Binding("up,k", "move(-1)", show=False),
        Binding("down,j", "move(1)", show=False),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown,space", "page(1)", show=False),
    ]

    def __init__(self, lines_at: LinesAt) -> None:
        super().__init__()
        self.lines_at = lines_at

    def compose(self) -> ComposeResult:
        yield Pane(id="paper", more_hint="PgDn")
        yield Pane(id="foot")

    def on_mount(self) -> None:
        """Shows the page, and says how to move over it."""
        self.query_one("#paper", Pane).show(lambda width: self.lines_at(max(NARROWEST, width)))
        self.query_one("#foot", Pane).show([((" up/down PgUp/PgDn move  esc back", "dim"),)])

    def action_move(self, by: int) -> None:
        """Moves by lines."""
        self.query_one("#paper", Pane).scroll_lines(by)

    def action_page(self, by: int) -> None:
        """Moves by pages."""
        self.query_one("#paper", Pane).scroll_pages(by)
