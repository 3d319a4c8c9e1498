"""Signals that end a program, and a terminal given back whatever became of the program in it."""

import os
import signal
import termios
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from types import FrameType

SECONDS_TO_LEAVE = 3.0
# What ends a program unless it listens. A fault of the machine is not among them, nor what only stops it.
ENDING = (
    signal.SIGHUP, signal.SIGINT, signal.SIGQUIT, signal.SIGTERM, signal.SIGUSR1, signal.SIGUSR2,
    signal.SIGALRM, signal.SIGVTALRM, signal.SIGPROF, signal.SIGXCPU, signal.SIGABRT,
)  # fmt: skip
# Pastes, mouse, focus, keys of their own, wrapping, colours, the screen there was before, and the cursor.
GIVE_BACK = (
    b"\x1b[?2026l\x1b[?2004l\x1b[?1000l\x1b[?1003l\x1b[?1015l\x1b[?1006l\x1b[?1004l\x1b[<u\x1b[?7h\x1b[0m"
    b"\x1b[?1049l\x1b[?25h"
)


class Terminal:
    """The terminal as it is before the round takes it."""

    def __init__(self, keys: int = 0, screen: int = 2) -> None:
        self._keys, self._screen = keys, screen
        self._before: list | None = None
        with suppress(termios.error):
            self._before = termios.tcgetattr(keys)

    def give_back(self) -> None:
        """Puts everything back at once, without the program in it, which may hang. Never raises, never waits."""
        with suppress(OSError):
            os.set_blocking(self._screen, False)
            os.write(self._screen, GIVE_BACK)
            os.set_blocking(self._screen, True)
        if self._before is not None:
            with suppress(termios.error):
                termios.tcsetattr(self._keys, termios.TCSANOW, self._before)

    def give_up_in_time(self, status: int) -> None:
        """Ends the process as it is, the terminal given back, unless it has ended three seconds from now."""

        def give_up() -> None:
            self.give_back()
            os._exit(status)

        # Not a handler of the event loop: writing to a terminal that is gone can block the loop for good.
        watchdog = threading.Timer(SECONDS_TO_LEAVE, give_up)
        watchdog.daemon = True
        watchdog.start()


@contextmanager
def ended_by_signals(end: Callable[[int], None]) -> Iterator[None]:
    """While this lasts a signal that ends programs calls `end` with the exit status, 128 and its number.

    Signals that the shell has told it to ignore stay ignored.
    """

    def signalled(number: int, frame: FrameType | None) -> None:
        end(128 + number)

    heard = [number for number in ENDING if signal.getsignal(number) in (signal.SIG_DFL, signal.default_int_handler)]
    before = [(number, signal.signal(number, signalled)) for number in heard]
    try:
        yield
    finally:
        for number, was in before:
            signal.signal(number, was)
