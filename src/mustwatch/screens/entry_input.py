"""One line of typing, as all screens use it."""

from __future__ import annotations

from textual import events
from textual.widgets import Input

LONGEST = 2000


class EntryInput(Input):
    """One line of typing. The cursor does not blink: an idle screen writes nothing."""

    def __init__(self, text: str = "", *, id: str) -> None:
        super().__init__(text, id=id, compact=True, select_on_focus=False, max_length=LONGEST)
        self.cursor_blink = False

    def on_paste(self, event: events.Paste) -> None:
        """A pasted text of several lines becomes one line, nothing of it lost."""
        event.text = " ".join(event.text.split())
