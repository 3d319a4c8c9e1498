"""The terminal's driver: textual's own, with a sieve before its reader of keys.

textual 8.2.8 ends over a byte that is no UTF-8, a number that is no character and a mouse report after a window of
no pixels; a sequence it does not know it holds back, and then takes for letters; a paste that is never closed takes
all further keys. None of these gets past the sieve.
"""

import os
import select
import time
from collections.abc import Sequence

from textual import events
from textual._ansi_sequences import ANSI_SEQUENCES_KEYS
from textual._keyboard_protocol import FUNCTIONAL_KEYS
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver
from textual.message import Message

from mustwatch.screens.colours import theme_on
from mustwatch.screens.terminal.sieve import ESCAPE, Background, Pasted, Sieve, Token

AT_ONCE = 4096  # bytes
ASK_BACKGROUND = "\x1b]11;?\x1b\\"
LOOK_UP = 0.05  # seconds between two looks at whether the round has ended
LOOK_UP_WAITING = 0.02
KNOWN = frozenset(sequence.encode() for sequence in ANSI_SEQUENCES_KEYS)
NUMBERED = frozenset(name.encode() for name in FUNCTIONAL_KEYS)


class SiftingDriver(LinuxDriver):
    """Keys, mouse and pastes of a terminal that may send anything. is_up: whether the terminal is taken."""

    is_up = False

    def start_application_mode(self) -> None:
        """Takes the terminal."""
        self.is_up = True
        super().start_application_mode()
        if getattr(self._app, "asks_background", False):
            self.write(ASK_BACKGROUND)
            self.flush()

    def stop_application_mode(self) -> None:
        """Gives the terminal back."""
        super().stop_application_mode()
        self.is_up = False

    def _run_input_thread(self) -> None:
        """Reads; a fault ends the round as any other does, and not with a traceback as textual 8.2.8 has it."""
        try:
            self.run_input_thread()
        except Exception as error:
            self._app.call_later(self._app._handle_exception, error)

    def run_input_thread(self) -> None:
        """Reads until the round ends or the terminal is gone."""
        sieve, reader = Sieve(KNOWN, NUMBERED), Reader()
        while not self.exit_event.is_set():
            wait = LOOK_UP_WAITING if sieve.is_waiting else LOOK_UP
            if not select.select([self.fileno], [], [], wait)[0]:
                tokens = sieve.rest(time.monotonic())
            elif data := _read(self.fileno):
                tokens = sieve.feed(data, time.monotonic())
            else:
                return
            for token in tokens:
                for message in reader.messages(token):
                    self.process_message(message)


class BackgroundTold(Message):
    """The terminal has told the colour of its background. theme: the set of colours that fits it."""

    def __init__(self, theme: str) -> None:
        super().__init__()
        self.theme = theme


class Reader:
    """Tells what tokens mean to a screen. One that textual cannot take all the same means nothing."""

    def __init__(self) -> None:
        self._parser = XTermParser()

    def messages(self, token: Token) -> Sequence[Message]:
        """The messages of a token."""
        if isinstance(token, Pasted):
            return (events.Paste(token.text),)
        if isinstance(token, Background):
            return (BackgroundTold(theme_on(token.red, token.green, token.blue)),)
        if token == ESCAPE:
            return (events.Key("escape", ESCAPE),)
        try:
            return tuple(self._parser.feed(token))
        except Exception:  # a reader that failed once never reads again
            self._parser = XTermParser()
            return ()


def _read(fileno: int) -> bytes:
    """What has come; nothing once the terminal is gone, which the screen finds out for itself."""
    try:
        return os.read(fileno, AT_ONCE)
    except OSError:
        return b""
