"""The full-screen program: wires the screens to the shell, and leaves the terminal as it was."""

from __future__ import annotations

import asyncio
import os
import sys
from typing import TYPE_CHECKING

from textual.binding import Binding

from mustwatch.said.terminal import is_ascii
from mustwatch.screens.colours import TERMINAL, THEMES, first_theme
from mustwatch.screens.keys_in_order import KeysInOrder
from mustwatch.screens.round.screen import RoundScreen
from mustwatch.screens.terminal.driver import BackgroundTold, SiftingDriver
from mustwatch.screens.terminal.giving_back import Terminal, ended_by_signals

if TYPE_CHECKING:
    from mustwatch.screens.look import Look
    from mustwatch.screens.unsent import Unsent

SWITCHED_FAST = 0.0005  # seconds; how long a thread may keep another waiting
FAULTY = 2  # the exit status after a fault of the program

class RoundApp(KeysInOrder):
    """The daily round on one cellar."""

    CSS_PATH = ["app.tcss", "round/round.tcss"]  # the first screen of an app gets no style sheet of its own
    ENABLE_COMMAND_PALETTE = False
    TITLE = "mustwatch"
    BINDINGS = [
        Binding("ctrl+c", "leave", show=False, priority=True),
        Binding("ctrl+q", "leave", show=False, priority=True),
        Binding("ctrl+z", "suspend_process", show=False, priority=True),
        Binding("question_mark,f1", "keys", show=False),
    ]

    def __init__(self, look: Look, unsent: Unsent) -> None:
        first, self.asks_background = first_theme(look.settings.colours, os.environ)
        # Told from the start: NO_COLOR is taken by what was told there.
        super().__init__(ansi_color=first == TERMINAL, driver_class=SiftingDriver)
        for theme in THEMES:
            self.register_theme(theme)
        self._colour(first)
        self.look, self.unsent = look, unsent
        self.last_words = ""
        self.fault: BaseException | None = None
        self._terminal: Terminal | None = None
        self.ascii_only = is_ascii(os.environ)
        self.set_class(self.ascii_only, "-ascii")

    def _colour(self, theme: str) -> None:
        self.theme = theme
        self.set_class(theme == TERMINAL, "-own-colours")

    def on_background_told(self, message: BackgroundTold) -> None:
        """Takes the set of colours that fits the background of the terminal."""
        if self.asks_background:
            self.ansi_color = False
            self._colour(message.theme)

    def get_default_screen(self) -> RoundScreen:
        """The round is the first screen."""
        return RoundScreen(self.look, self.unsent)

    def play(self) -> int:
        """Runs the round to its end; answers with the exit status. `last_words` is then what there is to say."""
        loop, self._terminal = asyncio.new_event_loop(), Terminal()
        with ended_by_signals(lambda status: self._signalled(status, loop)):
            try:
                # A loop of our own: at its end asyncio's waits for threads, and a forecast can take its time.
                self.run(loop=loop)
            except Exception as error:
                self._give_up(error)
            if getattr(self._driver, "is_up", False):
                self._terminal.give_back()
        if self.fault is not None:
            return FAULTY
        return self.return_code or 0

    def on_round_screen_ready(self) -> None:
        """Lets keys through."""
        self.release_keys()

    def _signalled(self, status: int, loop: asyncio.AbstractEventLoop) -> None:
        if self._terminal is not None:
            self._terminal.give_up_in_time(status)
        self.unsent.keep()
        sys.setswitchinterval(SWITCHED_FAST)
        loop.call_soon_threadsafe(lambda: self.exit(return_code=status))

    def _fatal_error(self) -> None:
        # textual 8.2.8 would print a traceback with what all its variables hold.
        self._give_up(self._exception)

    def panic(self, *renderables: object) -> None:
        """Ends the round over a fault; what it would draw of it is left out."""
        self._give_up(self._exception or RuntimeError("the screen cannot go on"))

    def _give_up(self, error: BaseException | None) -> None:
        self.fault = self.fault or error
        kept = self.unsent.keep() or "what was typed is kept"
        self.last_words = f"a fault of the program, please report it: {type(self.fault).__name__}: {self.fault}; {kept}"
        if self._terminal is not None:
            self._terminal.give_up_in_time(FAULTY)
        self._close_messages_no_wait()

    def _set_pointer_shape(self, shape: str) -> None:
        # textual 8.2.8 leaves the pointer of the mouse in the shape it had over a field.
        pass

    def action_keys(self) -> None:
        """Opens the page of keys."""
        from mustwatch.screens.help import keys_page

        self.push_screen(keys_page())

    def action_leave(self) -> None:
        """Ends the program; what was typed and not saved is kept."""
        self.last_words = self.unsent.keep()
        # A forecast under way must not hold up the end.
        sys.setswitchinterval(SWITCHED_FAST)
        self.exit()
