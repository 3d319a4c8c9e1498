"""A widget that shows lines of text with roles and scrolls over them. Nothing in it is ever read as markup.

It is the door to the screen: whatever is drawn, but for what is typed into (inputs.py), is drawn by `Pane.drawn`,
which makes it safe. tests/screens/test_door.py proves it.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from mustwatch.ledger.visible import visible
from mustwatch.said.terminal import spelled
from mustwatch.screens.ink import ROLES, Line

PLAIN = Style.null()
# The styles of the roles, kept by the first screen for all: each pane with its own would slow every start.
INK_CLASSES = {f"ink--{role}" for role in ROLES if role}
_safe = lru_cache(maxsize=2048)(visible)  # the same lines are drawn again and again
LinesAt = Callable[[int], Sequence[Line]]  # lines for so many cells
Row = tuple[Line, str]


class Pane(Widget):
    """Lines, drawn as they are. Set them with `show`; more_hint: the key that leads on, named where lines are left."""

    def __init__(self, *, id: str | None = None, classes: str | None = None, more_hint: str = "") -> None:
        super().__init__(id=id, classes=classes)
        self.lines: Sequence[Line] = ()
        self.top = 0
        self.more_hint = more_hint
        self._lines_at: LinesAt | None = None
        self._width = 0
        self._rows: list[Row] = []

    def show(self, lines: Sequence[Line] | LinesAt, *, top: int | None = None) -> None:
        """Shows other lines, from `top` (or from where one was, as far as they reach).

        What must be wrapped is given as a function of the width; it is asked again whenever that changes.
        """
        self._lines_at = lines if callable(lines) else None
        self._width = self.size.width
        shown = lines if not callable(lines) else lines(self._width) if self._width else ()
        if shown != self.lines or top not in (None, self.top) or not self._width:
            self.lines = shown
            self.top = self._within(self.top if top is None else top)
            self.refresh_rows()

    def scroll_lines(self, count: int) -> None:
        """Moves over the lines, down for a positive count."""
        self.scroll_to_line(self.top + count)

    def scroll_pages(self, count: int) -> None:
        """Moves by so many pages; two lines of the old one stay in sight."""
        self.scroll_lines(count * max(1, self.size.height - 2))

    def scroll_to_line(self, line: int) -> None:
        """Puts a line at the top, as far as there are lines below to fill the pane."""
        top = self._within(line)
        if top != self.top:
            self.top = top
            self.refresh_rows()

    def refresh_rows(self) -> None:
        """Draws anew the rows that are other than when this was last asked: over a slow line each of them counts."""
        rows = [self.row(y) for y in range(self.size.height)]
        changed = [y for y, row in enumerate(rows) if y >= len(self._rows) or row != self._rows[y]]
        if len(changed) == len(rows):
            self.refresh()
        elif changed:
            self.refresh(*(Region(0, y, self.size.width, 1) for y in changed))
        self._rows = rows

    def _within(self, top: int) -> int:
        return max(0, min(top, len(self.lines) - max(1, self.size.height)))

    @property
    def ascii_only(self) -> bool:
        """Whether this terminal shows ASCII alone."""
        return bool(getattr(self.app, "ascii_only", False))

    def row(self, y: int) -> Row:
        """What stands in a row of the pane, and the role that lies under it."""
        number = self.top + y
        below = len(self.lines) - self.top - self.size.height
        if self.more_hint and y == self.size.height - 1 and below > 0:
            room = self.size.width - 1
            return ((self.hint(number, below + 1)[:room].rjust(room), "dim"),), ""
        return (self.lines[number] if number < len(self.lines) else ()), ""

    def render_line(self, y: int) -> Strip:
        """One line of the pane as it stands."""
        width = self.size.width
        if self._lines_at is not None and width != self._width:
            self._width, self.lines = width, self._lines_at(width)
            self.top, self._rows = self._within(self.top), []
        line, role = self.row(y)
        return self.drawn(line, width, role)

    def hint(self, line: int, below: int) -> str:
        """What is said in the place of the last line in sight, where lines are left."""
        return f"{below} more lines: {self.more_hint}"

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
                    spelled(_safe(text), self.ascii_only),
                    under + self.ink(own) if own else under,
                )
                for text, own in line
            ]
        )
        return strip.adjust_cell_length(width, under)
