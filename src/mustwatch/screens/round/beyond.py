"""The screens over the whole cellar that the round opens: what falls due, and the shelf."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mustwatch.screens.round.desk import Desk
    from mustwatch.screens.round.opener import Opener
    from mustwatch.screens.round.shown import Shown


class Beyond:
    """Opens them, and comes back from the shelf to the batch of which a bottle is to be taken."""

    def __init__(self, shown: Shown, opener: Opener, desk: Desk) -> None:
        self.shown, self.opener, self.desk = shown, opener, desk

    def ahead(self) -> None:
        """Opens the page of what falls due."""
        from mustwatch.screens.ahead import ahead_page

        self.desk.ask(ahead_page(self.shown.look))

    def shelf(self) -> None:
        """Opens the shelf."""
        from mustwatch.rules.shelf import shelf
        from mustwatch.screens.shelf import ShelfScreen

        look = self.shown.look
        self.desk.ask(ShelfScreen(shelf(look.cellar, look.findings), look.now), self._take)

    def _take(self, tag: str | None) -> None:
        if tag is None:
            return
        self.shown.choose(tag)
        self.desk.draw()
        self.opener.form("take")
