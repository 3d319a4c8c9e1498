"""The full-screen program: wires the screens to the shell, and leaves the terminal as it was."""

from __future__ import annotations

import asyncio
import os
import signal
import threading
from dataclasses import replace
from typing import TYPE_CHECKING

from textual.binding import Binding
from textual.theme import BUILTIN_THEMES

from mustwatch.said.terminal import is_ascii
from mustwatch.screens.keys_in_order import KeysInOrder
from mustwatch.screens.round.screen import RoundScreen

if TYPE_CHECKING:
    from mustwatch.screens.look import Look
    from mustwatch.screens.unsent import Unsent

SECONDS_TO_LEAVE = 3.0

# The terminal's own sixteen colours: its user chose them to be readable. Words and signs say all that colours do.
# Magenta rather than yellow for what must be done today: it can be read on white and on black.
OWN_COLOURS = replace(
    BUILTIN_THEMES["ansi-dark"], name="own-colours", warning="ansi_magenta", secondary="ansi_cyan", accent="ansi_green"
)


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
        super().__init__(ansi_color=True)
        self.register_theme(OWN_COLOURS)
        self.theme = OWN_COLOURS.name
        self.look, self.unsent = look, unsent
        self.ascii_only = is_ascii(os.environ)
        self.set_class(self.ascii_only, "-ascii")

    def get_default_screen(self) -> RoundScreen:
        """The round is the first screen."""
        return RoundScreen(self.look, self.unsent)

    def on_mount(self) -> None:
        """Listens for the signals that end a program."""
        if threading.current_thread() is threading.main_thread() and not self.is_headless:
            self._loop_here = asyncio.get_running_loop()
            for number in (signal.SIGTERM, signal.SIGHUP):
                signal.signal(number, self._signalled)

    def on_round_screen_ready(self) -> None:
        """Lets keys through."""
        self.release_keys()

    def _signalled(self, number: int, frame: object) -> None:
        # Not a handler of the event loop: writing to a terminal that is gone can block the loop for good.
        watchdog = threading.Timer(SECONDS_TO_LEAVE, os._exit, (128 + number,))
        watchdog.daemon = True
        watchdog.start()
        self.unsent.keep()
        self._loop_here.call_soon_threadsafe(lambda: self.exit(return_code=128 + number))

    def action_keys(self) -> None:
        """Opens the page of keys."""
        from mustwatch.screens.help import keys_page

        self.push_screen(keys_page())

    def action_leave(self) -> None:
        """Ends the program; what was typed and not saved is kept."""
        self.exit(message=self.unsent.keep() or None)
