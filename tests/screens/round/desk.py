"""A desk that only writes down what the parts of the round ask of their screen."""

from __future__ import annotations

from types import SimpleNamespace

from screens.small_cellar import looked

from mustwatch.screens.round.attending import Attending
from mustwatch.screens.round.beyond import Beyond
from mustwatch.screens.round.entries import Entries
from mustwatch.screens.round.listing import Listing
from mustwatch.screens.round.opener import Opener
from mustwatch.screens.round.recorder import Recorder
from mustwatch.screens.round.shown import Shown


class FakeDesk:
    """says, asked, filled: what was asked for, in order; drawn: how often."""

    def __init__(self) -> None:
        self.says: list[str] = []
        self.asked: list = []
        self.filled: list[tuple[str, str]] = []
        self.drawn = 0

    def say(self, text, role="", *, about=""):
        self.says.append(text)

    def draw(self):
        self.drawn += 1

    def ask(self, question, then=None):
        self.asked.append((question, then))

    def fill(self, field, text=""):
        self.filled.append((field, text))

    def answer(self, value):
        """Answers the newest question."""
        self.asked[-1][1](value)


def parts(path, **more) -> SimpleNamespace:
    """The parts of a round on a cellar, with a desk that only writes down."""
    look, desk = looked(path, **more), FakeDesk()
    shown, recorder = Shown(look, {}), Recorder(look)
    shown.arrange()
    entries = Entries(shown, recorder, desk)
    opener = Opener(shown, entries, desk)
    return SimpleNamespace(
        look=look, desk=desk, shown=shown, recorder=recorder, entries=entries, opener=opener,
        beyond=Beyond(shown, opener, desk),
        attending=Attending(shown, entries, opener, desk), listing=Listing(shown, desk),
    )  # fmt: skip
