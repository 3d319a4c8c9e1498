"""The full-screen program: wires the screens to the shell, and leaves the terminal as it was."""

from __future__ import annotations

import asyncio
import os
import signal
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from textual.binding import Binding
from textual.theme import BUILTIN_THEMES

from mustwatch.said.terminal import is_ascii
from mustwatch.screens.keys_in_order import KeysInOrder
from mustwatch.screens.round.frame import Frame
from mustwatch.screens.round.screen import RoundScreen
from mustwatch.screens.unsent import Fields, keep, load, unsent_path

if TYPE_CHECKING:
    from mustwatch.screens.look import Look

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
    ]

    def __init__(
        self, first: Callable[[], Frame], take_look: Callable[[], Look], cellar: Path, unsent: Path | None = None
    ) -> None:
        super().__init__(ansi_color=True)
        self.register_theme(OWN_COLOURS)
        self.theme = OWN_COLOURS.name
        self._first = first
        self.refusal: Exception | None = None
        self.take_look = take_look
        self.cellar = cellar
        self.unsent = unsent or unsent_path()
        self.ascii_only = is_ascii(os.environ)
        self.set_class(self.ascii_only, "-ascii")
        self.drafts: dict[str, Fields] = load(self.unsent, cellar)

    def get_default_screen(self) -> RoundScreen:
        """The round is the first screen."""
        return RoundScreen(self.first_frame, self.take_look, self.drafts)

    def first_frame(self) -> Frame | None:
        """The first frame, or None when the cellar cannot be looked at: the program ends, and says why."""
        try:
            return self._first()
        except Exception as error:
            self.refusal = error
            self.exit()
            return None

    def on_mount(self) -> None:
        """Listens for the signals that end a program."""
        if threading.current_thread() is threading.main_thread() and not self.is_headless:
            self._loop_here = asyncio.get_running_loop()
            for number in (signal.SIGTERM, signal.SIGHUP):
                signal.signal(number, self._signalled)

    def _signalled(self, number: int, frame: object) -> None:
        # Not a handler of the event loop: writing to a terminal that is gone can block the loop for good.
        watchdog = threading.Timer(SECONDS_TO_LEAVE, os._exit, (128 + number,))
        watchdog.daemon = True
        watchdog.start()
        self.keep_unsent()
        self._loop_here.call_soon_threadsafe(lambda: self.exit(return_code=128 + number))

    def is_terminal_gone(self) -> bool:
        """Whether the terminal was closed without a signal reaching the program."""
        if self.is_headless:
            return False
        try:
            os.get_terminal_size(0)
        except OSError:
            return True
        return False

    def keep_unsent(self) -> None:
        """Keeps what is typed and not saved for the next start; a full disk must not stop the round."""
        try:
            keep(self.unsent, self.cellar, self.drafts)
        except OSError as error:
            if self.screen_stack and isinstance(self.screen, RoundScreen):
                self.screen.say(f"what is typed could not be kept for the next start: {error.strerror}", "danger")

    def action_leave(self) -> None:
        """Ends the program; what was typed and not saved is kept."""
        self.keep_unsent()
        self.exit()
