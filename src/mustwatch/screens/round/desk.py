"""What the parts behind the round's keys ask of the screen they work for; a test can put anything in its place."""

from collections.abc import Callable
from typing import Protocol, TypeVar

from textual.screen import Screen

Answer = TypeVar("Answer")


class Desk(Protocol):
    """The screen, as far as its parts know it."""

    def say(self, text: str, role: str = "", *, about: str = "") -> None:
        """One line above the foot; `about` the batch for which it holds until something else is typed."""

    def draw(self) -> None:
        """Draws the look as it is now."""

    def ask(self, question: Screen[Answer], then: Callable[[Answer | None], None] | None = None) -> None:
        """Puts a question or a page over the screen; what is answered goes to `then`."""

    def fill(self, field: str, text: str = "") -> None:
        """Puts the cursor into a field of the reading form, writing `text` there where it is given."""
