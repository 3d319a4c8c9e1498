"""A widget that shows lines of text with roles and scrolls over them. Nothing in it is ever read as markup."""

from __future__ import annotations

from collections.abc import Sequence

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from mustwatch.said.terminal import spelled
from mustwatch.screens.ink import ROLES, Line

PLAIN = Style.null()
# The styles of the roles, kept by the first screen for all: each pane with its own would slow every start.
INK_CLASSES = {f"ink--{role}" for role in ROLES if role}


class Pane(Widget):
    """Lines, drawn as they are. Set them with `show`; `scroll_lines` moves over them."""

    more_hint = ""

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(id=id, classes=classes)
        self.lines: Sequence[Line] = ()
        self.top = 0

    def show(self, lines: Sequence[Line], *, top: int | None = None) -> None:
        """Shows other lines, from `top` (or from where one was, as far as they reach)."""
        if lines == self.lines and top in (None, self.top):
            return
        self.lines = lines
        self.top = self._within(self.top if top is None else top)
        self.refresh()

    def scroll_lines(self, count: int) -> None:
        """Moves over the lines, down for a positive count."""
        self.scroll_to_line(self.top + count)

    def scroll_to_line(self, line: int) -> None:
        """Puts a line at the top, as far as there are lines below to fill the pane."""
        top = self._within(line)
        if top != self.top:
            self.top = top
            self.refresh()

    def _within(self, top: int) -> int:
        return max(0, min(top, len(self.lines) - max(1, self.size.height)))

    @property
    def ascii_only(self) -> bool:
        """Whether this terminal shows ASCII alone."""
        return bool(getattr(self.app, "ascii_only", False))

    def render_line(self, y: int) -> Strip:
        """One line of the pane as it stands."""
        width = self.size.width
        number = self.top + y
        line: Line = self.lines[number] if number < len(self.lines) else ()
        below = len(self.lines) - self.top - self.size.height
        if self.more_hint and y == self.size.height - 1 and below > 0:
            line = ((f"{below + 1} more lines: {self.more_hint}".rjust(width - 1), "dim"),)
        return self.drawn(line, width)

    def ink(self, role: str) -> Style:
        """The style of a role, as the style sheets have it."""
        keeper = self.app.screen_stack[0]
        return keeper.get_component_rich_style(f"ink--{role}", partial=True, default=PLAIN)

    def drawn(self, line: Line, width: int, role: str = "") -> Strip:
        """A line as a strip exactly `width` cells wide; `role` lies under the roles of its pieces."""
        base = self.rich_style
        under = base + self.ink(role) if role else base
        strip = Strip(
            [
                Segment(
                    spelled(text, self.ascii_only),
                    under + self.ink(own) if own else under,
                )
                for text, own in line
            ]
        )
        return strip.adjust_cell_length(width, under)
