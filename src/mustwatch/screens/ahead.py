"""The first look at the cellar, taken in a process of its own while this one loads the screens.

Reading, folding and judging need other modules than drawing does, and each takes its time to load. On more than
one core both go on at once, and the first frame comes that much sooner.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass

GIVEN, REFUSED = b"+", b"-"


class LookRefused(Exception):
    """The look could not be taken; its text is the line for the user, empty when the process itself failed."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """A look under way elsewhere."""

    pid: int
    pipe: int

    def text(self) -> str:
        """What the other process made; waits for it. Raises LookRefused with what it refused."""
        with os.fdopen(self.pipe, "rb") as pipe:
            given = pipe.read()
        os.waitpid(self.pid, 0)
        if given[:1] != GIVEN:
            raise LookRefused(given[1:].decode("utf-8", "replace"))
        return given[1:].decode("utf-8")


def begun(make: Callable[[], str], refusal: type[Exception]) -> Ahead | None:
    """Starts `make` in a process of its own; None where that would gain nothing."""
    if not hasattr(os, "fork") or (os.cpu_count() or 1) < 2:
        return None
    reading, writing = os.pipe()
    pid = os.fork()
    if pid:
        os.close(writing)
        return Ahead(pid, reading)
    try:
        answer = GIVEN + make().encode("utf-8")
    except refusal as refused:
        answer = REFUSED + str(refused).encode("utf-8", "backslashreplace")
    except BaseException:
        answer = REFUSED
    try:
        with os.fdopen(writing, "wb") as pipe:
            pipe.write(answer)
    finally:
        # No clearing up: buffers and exit handlers belong to the parent.
        os._exit(0)
