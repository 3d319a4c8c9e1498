"""The detail pane: standing, findings, course and story of one batch, one below the other."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from textual.events import Resize
from textual.message import Message

from mustwatch.screens.ink import Line, wrapped
from mustwatch.screens.pane import Pane

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.screens.look import Look


class Detail(Pane):
    """One batch. `show_batch` draws it; the sections can be jumped between."""

    more_hint = "PgDn"

    class Widened(Message):
        """The pane has another width, so that its text must be wrapped anew."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.starts: list[int] = [0]
        self.tag: str | None = None
        self._width = 0

    def on_resize(self, event: Resize) -> None:
        """Asks for the text anew when the width is another."""
        if event.size.width != self._width:
            self._width = event.size.width
            self.post_message(self.Widened())

    def show_batch(self, look: Look, batch: Batch | None, *, whole: bool = True) -> None:
        """Draws a batch; `whole` False leaves the course and the story for later."""
        if batch is None:
            self.tag = None
            self.show([(("no batch", "dim"),)], top=0)
            return
        same, self.tag = batch.tag == self.tag, batch.tag
        from mustwatch.screens.round.opening import heading_lines

        lines: list[Line] = []
        self.starts = []
        width = max(24, self.size.width)
        for name, body in self._sections(look, batch, whole, width):
            self.starts.append(len(lines))
            lines += [*heading_lines(name, width), *body]
        self.show(lines, top=None if same else 0)

    def _sections(self, look: Look, batch: Batch, whole: bool, width: int) -> Iterator[tuple[str, list[Line]]]:
        from mustwatch.screens.round.opening import opening_sections

        yield from opening_sections(look, batch, width)
        if whole:
            from mustwatch.screens.round.story import story_lines

            yield "course", self._course(look, batch, width)
            yield "story", story_lines(batch, look.settings, look.now, width)

    def _course(self, look: Look, batch: Batch, width: int) -> list[Line]:
        from mustwatch.screens.round.course import course_lines

        outlook: Any = look.known_outlook(batch) if batch.active else None
        height = 9 if self.size.height < 24 else 12
        lines = course_lines(batch, look.settings, look.now, width, height, outlook, self.ascii_only)
        words = getattr(outlook, "words", None)
        said = [words] if isinstance(words, str) else list(words or ())
        return [*lines, *(more for text in said for more in wrapped(str(text), width, "dim"))]

    def page(self, by: int) -> None:
        """Moves by so many pages."""
        self.scroll_lines(by * max(1, self.size.height - 2))

    def jump(self, by: int) -> None:
        """Moves to the next section, or with -1 to the one before."""
        here = self.top
        if by > 0:
            target = next((start for start in self.starts if start > here), None)
        else:
            target = next((start for start in reversed(self.starts) if start < here), None)
        if target is not None:
            self.scroll_to_line(target)
