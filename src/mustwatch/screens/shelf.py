"""The shelf as a screen: the lots of bottles, one of them chosen, and one key to take a bottle of it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import Screen

from mustwatch.said.bottles import bottles_in_all, lot_words, window_words
from mustwatch.said.figures import score_words
from mustwatch.screens.ink import Line, wrapped
from mustwatch.screens.pane import Pane

if TYPE_CHECKING:
    from mustwatch.rules.shelf import Shelved

NARROWEST = 24  # cells
FOOT = " up/down another lot  g take bottles  esc back"
NOTHING = "no bottle on the shelf"


def shelf_lines(lots: Sequence[Shelved], chosen: int, now: datetime, width: int) -> tuple[list[Line], int]:
    """The lots as lines at most `width` cells wide, and the line at which the chosen one begins."""
    from mustwatch.rules.shelf import bottles_left

    if not lots:
        return wrapped(NOTHING, width), 0
    lines, start, last = wrapped(bottles_in_all(bottles_left(lots), len(lots)), width), 0, ""
    for place, one in enumerate(lots):
        if one.lot.batch != last:
            lines += [(), *_head(one, width)]
            last = one.lot.batch
        if place == chosen:
            start = len(lines)
        lines += _lot(one, now, width, is_chosen=place == chosen)
    return lines, start


def _head(one: Shelved, width: int) -> list[Line]:
    name = "" if one.batch.name in ("", one.batch.tag) else f"  {one.batch.name}"
    lines = wrapped(f"{one.batch.tag}{name}", width, "head")
    if one.hold:
        said = f"{one.hold.severity.mark} ON HOLD: {one.hold.says} ({one.hold.rule})"
        lines += wrapped(said, width, one.hold.severity.word, first="  ", rest="     ")
    if one.score is not None:
        lines += wrapped(f"last tasted at {score_words(one.score)}", width, first="  ", rest="  ")
    return lines


def _lot(one: Shelved, now: datetime, width: int, *, is_chosen: bool) -> list[Line]:
    mark, role = ("> ", "strong") if is_chosen else ("  ", "")
    lines = wrapped(f"lot {one.lot.name}: {lot_words(one.lot, now)}", width, role, first=mark, rest="    ")
    return lines if one.hold else [*lines, *wrapped(window_words(one.window, now), width, first="    ", rest="    ")]


class ShelfScreen(Screen[str | None]):
    """The lots that are not empty. Ends with the tag of the batch of which bottles are to be taken, or with None."""

    BINDINGS = [
        Binding("escape,q,S", "dismiss(None)", show=False),
        Binding("up,k", "move(-1)", show=False),
        Binding("down,j", "move(1)", show=False),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown,space", "page(1)", show=False),
        Binding("g,enter", "take", show=False),
    ]

    def __init__(self, lots: Sequence[Shelved], now: datetime) -> None:
        super().__init__()
        self.lots = [one for one in lots if not one.lot.is_empty]
        self.now = now
        self.chosen = 0

    def compose(self) -> ComposeResult:
        yield Pane(id="paper", more_hint="PgDn")
        yield Pane(id="foot")

    def on_mount(self) -> None:
        """Shows the lots, and says which keys there are."""
        self._draw()
        self.query_one("#foot", Pane).show([((FOOT, "dim"),)])

    def _draw(self) -> None:
        pane = self.query_one("#paper", Pane)
        pane.show(lambda width: shelf_lines(self.lots, self.chosen, self.now, max(NARROWEST, width))[0])

    def action_move(self, by: int) -> None:
        """Chooses another lot, and brings it into sight."""
        self.chosen = max(0, min(self.chosen + by, len(self.lots) - 1))
        self._draw()
        pane = self.query_one("#paper", Pane)
        start = shelf_lines(self.lots, self.chosen, self.now, max(NARROWEST, pane.size.width))[1]
        if not pane.top <= start < pane.top + pane.size.height - 3:
            pane.scroll_to_line(start - 3)

    def action_page(self, by: int) -> None:
        """Moves by pages."""
        self.query_one("#paper", Pane).scroll_pages(by)

    def action_take(self) -> None:
        """Ends with the batch of the lot chosen."""
        self.dismiss(self.lots[self.chosen].lot.batch if self.lots else None)
