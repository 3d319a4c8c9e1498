"""Which batches the list shows: by a filter, by need, with or without the ended ones, and anew when they changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mustwatch.screens.asking import Typing

if TYPE_CHECKING:
    from mustwatch.screens.round.desk import Desk
    from mustwatch.screens.round.shown import Shown


class Listing:
    """Keeps the list to what its user asks for, and to the cellar as it is."""

    def __init__(self, shown: Shown, desk: Desk) -> None:
        self.shown, self.desk = shown, desk

    def catch_up(self, *, reorder: bool, always: bool = False) -> None:
        """Takes a new look when the cellar was changed by others, when time alone may have changed it, or `always`."""
        try:
            if always or self.shown.look.is_stale():
                self.shown.look.again()
                if reorder:
                    self.shown.reorder()
                self.desk.draw()
            elif self.shown.look.is_live_news():
                self.desk.draw()
        except Exception as error:
            self.desk.say(f"the cellar cannot be read: {error}", "danger")

    def reorder(self) -> None:
        """Orders the list anew, after a new look; the cursor goes to its head."""
        self.catch_up(reorder=True, always=True)
        self.shown.move_to(0)
        self.desk.draw()

    def ended(self) -> None:
        """Shows or hides ended batches."""
        self.shown.with_ended = not self.shown.with_ended
        self.desk.draw()
        self.desk.say("ended batches are shown" if self.shown.with_ended else "ended batches are hidden")

    def filter(self) -> None:
        """Asks for the words that batches must match."""
        says = ["part of a tag, name, stage or severity, or words of a note or tasting; empty shows all"]
        self.desk.ask(Typing("Show only batches that match", self.shown.words, says=says), self._filtered)

    def _filtered(self, words: str | None) -> None:
        if words is not None:
            self.shown.words = words.strip()
            self.desk.draw()
