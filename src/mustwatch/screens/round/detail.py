"""The detail pane: standing, findings, course and story of one batch, one below the other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mustwatch.screens.ink import Line
from mustwatch.screens.pane import Pane
from mustwatch.screens.round.sections import (
    course_section,
    further_sections,
    heading_lines,
    opening_sections,
)

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.screens.look import Look

NARROWEST = 24  # cells
LEAST = 4  # rows of the drawn gravity in a pane of its own, which has as many as there is room for
WIDEST = 100  # cells of a line of words: longer ones are hard to read
LOW, HIGH = 9, 12  # rows of the course in a pane of fewer than 24 lines, and of more


class CoursePane(Pane):
    """The course of one batch in a pane of its own, as high as there is room."""

    def __init__(self, look: Look, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.look = look
        self._batch: Batch | None = None

    def show_batch(self, batch: Batch | None) -> None:
        """Draws the course of a batch, or nothing yet."""
        self._batch = batch
        self.show(self._lines, top=0)

    def on_resize(self) -> None:
        """Draws it as high as the pane is now."""
        self.show(self._lines, top=0)

    def _lines(self, width: int) -> list[Line]:
        if self._batch is None:
            return []
        room = max(NARROWEST, width)
        name, body = course_section(self.look, self._batch, room, LEAST, self.ascii_only, self.size.height - 1)
        return [*heading_lines(name, room)[1:], *body]


class Detail(Pane):
    """One batch. Course and story are drawn after what comes first, and the forecast when it has been made."""

    def __init__(self, look: Look, *, id: str | None = None) -> None:
        super().__init__(id=id, more_hint="PgDn")
        self.look = look
        self._batch: Batch | None = None
        self._starts: dict[str, int] = {}
        self._is_whole = False
        self._goes_on = False
        self._is_forecasting = False
        self.course: CoursePane | None = None  # the pane that draws the course, where there is room for one

    def set_course(self, pane: CoursePane | None) -> None:
        """Leaves the course to a pane of its own, or takes it back."""
        if pane is not self.course:
            self.course = pane
            self.show(self._lines)
            self._draw_course()

    def _draw_course(self) -> None:
        if self.course is not None:
            self.course.show_batch(self._batch if self._is_whole else None)

    def show_batch(self, batch: Batch | None) -> None:
        """Draws a batch."""
        same = batch is not None and self._batch is not None and batch.tag == self._batch.tag
        self._batch, self._is_whole = batch, self._is_whole and same
        self.show(self._lines, top=None if same else 0)
        self._draw_course()
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
            self._draw_course()
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
            self._draw_course()

    def _lines(self, width: int) -> list[Line]:
        if self._batch is None:
            return [(("no batch", "dim"),)]
        room = min(max(NARROWEST, width), WIDEST)
        sections = list(opening_sections(self.look, self._batch, room))
        if self._is_whole:
            if self.course is None:
                height = LOW if self.size.height < 24 else HIGH
                sections.append(course_section(self.look, self._batch, room, height, self.ascii_only))
            sections += further_sections(self.look, self._batch, room)
        lines: list[Line] = []
        self._starts = {}
        for name, body in sections:
            self._starts[name] = len(lines)
            lines += [*heading_lines(name, room), *body]
        return lines

    def hint(self, line: int, below: int) -> str:
        """The parts that follow, by name, as many as there is room for."""
        here = [name for name, start in self._starts.items() if start < line]
        names = [name for name, start in self._starts.items() if start >= line]
        said = f"{self.more_hint}: {', '.join(names) or f'more of {here[-1]}'}"
        while len(said) > self.size.width - 1 and len(names) > 1:
            names.pop()
            said = f"{self.more_hint}: {', '.join(names)} .."
        return said

    def jump(self, by: int) -> None:
        """Moves to the next section, or with -1 to the one before."""
        starts = list(self._starts.values())
        if by > 0:
            target = next((start for start in starts if start > self.top), None)
        else:
            target = next((start for start in reversed(starts) if start < self.top), None)
        if target is not None:
            self.scroll_to_line(target)
