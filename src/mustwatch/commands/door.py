"""The one door through which a command's words leave: nothing that came from a file or a user can act behind it.

No other module prints or writes to a stream; tests/commands/test_door.py proves it from the source.
"""

import os
import sys
from collections.abc import Iterable
from typing import TextIO

from mustwatch.ledger.visible import visible
from mustwatch.said.terminal import is_ascii, spelled


def say(text: str, stream: TextIO | None = None) -> None:
    """One line on standard output, or on another stream; a line break in it is drawn, as all that could act is."""
    stream = stream or sys.stdout
    print(_sayable(visible(text), stream.encoding), file=stream)


def say_page(text: str, stream: TextIO | None = None) -> None:
    """A text of several lines, all of them the program's own; data in it must have no line breaks left."""
    for line in text.rstrip("\n").split("\n"):
        say(line, stream)


def say_all(lines: Iterable[str]) -> None:
    """Many lines on standard output, at once."""
    sys.stdout.write("".join(f"{_sayable(visible(line), sys.stdout.encoding)}\n" for line in lines))


def say_traceback(error: BaseException) -> None:
    """Where a fault lies, on standard error: for those who mend the program."""
    import traceback

    for part in traceback.format_exception(error):
        say_page(part, sys.stderr)


def asked(question: str) -> str:
    """What a user answers to a question, in small letters; nothing at the end of the input."""
    try:
        return input(_sayable(visible(question), sys.stdout.encoding)).strip().lower()
    except EOFError:
        return ""


def asked_by_key(question: str, *keys: str, otherwise: str = "left open") -> str:
    """Which of the keys a user presses, in small letters; nothing for any other key, and where it is broken off.

    otherwise: what is said to any other key.
    """
    try:
        key = _one_key(_sayable(visible(question), sys.stdout.encoding)).strip().lower()
    except (OSError, KeyboardInterrupt, EOFError):
        key = ""
    answer = key if key in keys else ""
    say(answer or otherwise)
    return answer


def _one_key(question: str) -> str:
    try:
        import termios
        import tty
    except ImportError:  # no such terminal here: a line does
        return input(question)[:1]
    number = sys.stdin.fileno()
    before = termios.tcgetattr(number)
    try:
        # What was typed ahead is an answer too, so nothing is flushed.
        tty.setcbreak(number, termios.TCSANOW)
        print(question, end="", flush=True)
        # The whole of a key that sends several signs is one answer.
        return os.read(number, 32).decode(errors="replace")[:1]
    finally:
        termios.tcsetattr(number, termios.TCSADRAIN, before)


def _sayable(text: str, encoding: str | None) -> str:
    # Signs that this terminal or its locale cannot show are spelled out, as in the full screen, never a crash.
    if text.isascii():
        return text
    try:
        text.encode(encoding or "ascii")
    except UnicodeEncodeError:
        return spelled(text, True)
    return spelled(text, is_ascii(os.environ))
