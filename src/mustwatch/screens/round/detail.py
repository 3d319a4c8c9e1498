"""The detail pane: standing, findings, course and story of one batch, one below the other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mustwatch.screens.ink import Line
from mustwatch.screens.pane import Pane
from mustwatch.screens.round.sections import further_sections, heading_lines, opening_sections

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.screens.look import Look

NARROWEST = 24  # cells
LOW, HIGH = 9, 12  # rows of the course in a pane of fewer than 24 lines, and of more


class Detail(Pane):
    """One batch. Course and story are drawn after what comes first, and the forecast when it has been made."""

    def __init__(self, look: Look, *, id: str | None = None) -> None:
        super().__init__(id=id, more_hint="PgDn")
        self.look = look
        self._batch: Batch | None = None
        self._starts: list[int] = []
        self._is_whole = False
        self._goes_on = False
        self._is_forecasting = False

    def show_batch(self, batch: Batch | None) -> None:
        """Draws a batch."""
        same = batch is not None and self._batch is not None and batch.tag == self._batch.tag
        self._batch, self._is_whole = batch, self._is_whole and same
        self.show(self._lines, top=None if same else 0)
        if self._goes_on and batch is not None:
            self.call_after_refresh(self._finish, batch)

    def go_on(self) -> None:
        """Draws the whole batch, now that the first frame is out; from here on each batch is drawn whole."""
        self._goes_on = True
        if self._batch is not None:
            self._finish(self._batch)

    def _finish(self, batch: Batch) -> None:
        # The cursor may have moved on meanwhile: then the newer drawing finishes itself.
        if batch is not self._batch or not self.is_attached:
            return
        if not self._is_whole:
            self._is_whole = True
            self.show(self._lines)
        # One at a time: a thread cannot be called back, and each takes its share of what keys need.
        if batch.active and not self._is_forecasting and self.look.known_outlook(batch) is None:
            self._is_forecasting = True
            self.run_worker(lambda: self._forecast(batch), thread=True, exit_on_error=False)

    def _forecast(self, batch: Batch) -> None:
        try:
            self.look.make_outlook(batch)
        finally:
            # Not call_from_thread: it waits, and a round that has ended answers nobody.
            self.app.call_later(self._forecast_made, batch)

    def _forecast_made(self, batch: Batch) -> None:
        self._is_forecasting = False
        if self._batch is None:
            return
        if self._batch.revision != batch.revision:
            self._finish(self._batch)
        elif self.look.known_outlook(batch) is not None:
            self.show(self._lines)

    def _lines(self, width: int) -> list[Line]:
        if self._batch is None:
            return [(("no batch", "dim"),)]
        room = max(NARROWEST, width)
        sections = list(opening_sections(self.look, self._batch, room))
        if self._is_whole:
            height = LOW if self.size.height < 24 else HIGH
            sections += further_sections(self.look, self._batch, room, height, self.ascii_only)
        lines: list[Line] = []
        self._starts = []
        for name, body in sections:
            self._starts.append(len(lines))
            lines += [*heading_lines(name, room), *body]
        return lines

    def jump(self, by: int) -> None:
        """Moves to the next section, or with -1 to the one before."""
        if by > 0:
            target = next((start for start in self._starts if start > self.top), None)
        else:
            target = next((start for start in reversed(self._starts) if start < self.top), None)
        if target is not None:
            self.scroll_to_line(target)
