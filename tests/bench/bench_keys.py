"""What a key costs in the round on 200 batches: bytes written, and milliseconds until the screen has settled.

    python -m tests.bench.bench_keys [BATCHES] [EVENTS]

The round runs in a pseudo-terminal of 80x24 on one core. Each key is sent when nothing has been written for a while;
it has settled with the last byte written for it. `down` goes through the list, `1.04` is typed into the gravity,
`ctrl+s` saves it. Of a key in the list the first drawing is told too: the forecast follows it when it has been made.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import tempfile
import termios
import time
from pathlib import Path
from statistics import median, quantiles
from typing import NamedTuple

from tests.bench.bench_commands import on_one_core, surroundings
from tests.bench.large_cellar import made

STILL_S = 0.4
IDLE_S = 30.0
TERMINAL = {"TERM": "xterm-256color", "LANG": "C.UTF-8", "LC_ALL": "C.UTF-8"}


class Cost(NamedTuple):
    """One key: milliseconds to the first and to the last byte, and how many there were."""

    first_ms: float
    last_ms: float
    bytes: int


class Round:
    """A round that is running in a terminal of its own."""

    def __init__(self, cellar: Path, home: Path) -> None:
        command = [sys.executable, "-m", "mustwatch", "--cellar", str(cellar)]
        self.child, self.terminal = pty.fork()
        if self.child == 0:
            os.execve(command[0], command, surroundings(home) | TERMINAL)
        fcntl.ioctl(self.terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        self.written(20)
        self.settle(2.0)

    def written(self, patience_s: float) -> bytes:
        """What is written next; nothing where it stays still for so long."""
        if not select.select([self.terminal], [], [], patience_s)[0]:
            return b""
        return os.read(self.terminal, 1 << 16)

    def settle(self, still_s: float) -> None:
        """Waits until nothing has been written for so long."""
        while self.written(still_s):
            pass

    def press(self, keys: bytes, still_s: float = STILL_S) -> Cost:
        """What keys cost, sent at once."""
        began = time.perf_counter()
        os.write(self.terminal, keys)
        first = last = 0.0
        count = 0
        while more := self.written(still_s):
            last = (time.perf_counter() - began) * 1000
            first, count = first or last, count + len(more)
        return Cost(first, last, count)

    def cpu_s(self) -> float:
        """Seconds that all its threads have been on a processor."""
        threads = Path(f"/proc/{self.child}/task").iterdir()
        return sum(int((each / "schedstat").read_text(encoding="ascii").split()[0]) for each in threads) / 1e9

    def idle(self, seconds: float) -> tuple[int, float]:
        """The bytes written and the share of a core used when nobody does anything."""
        before, began, count = self.cpu_s(), time.perf_counter(), 0
        while (left := seconds - (time.perf_counter() - began)) > 0:
            count += len(self.written(left))
        return count, (self.cpu_s() - before) / seconds

    def end(self) -> None:
        """Ends it."""
        os.kill(self.child, signal.SIGKILL)
        os.waitpid(self.child, 0)
        os.close(self.terminal)


def told(name: str, costs: list[Cost], bar: str) -> str:
    """A line of the table."""
    first, last, size = zip(*costs, strict=True)
    p95 = [quantiles(each, n=20)[-1] if len(each) > 1 else each[0] for each in (first, last)]
    return (
        f"{name:<22}{median(first):8.1f} {p95[0]:8.1f}  {median(last):8.1f} {p95[1]:8.1f}"
        f"  {median(size):8.0f} {max(size):6.0f}   {bar}"
    )


def main(batches: int = 200, events: int = 100, idle_s: float = IDLE_S) -> None:
    """Prints the table."""
    on_one_core()
    with tempfile.TemporaryDirectory() as place:
        home = Path(place)
        cellar = made(home / "cellar", batches, events=events, under_way=batches)
        here = Round(cellar, home)
        print(f"{batches} batches of {events} events   first byte, p95   settled, p95        bytes, most")
        print(told("down in the list", [here.press(b"\x1b[B") for _ in range(40)], "at most 20 ms, 1200 bytes"))
        here.press(b"\r")
        print(told("a digit in the form", [here.press(b"1"), *(here.press(key) for key in (b".", b"0", b"4", b"1"))]
                   + [cost for _ in range(8) for cost in (here.press(b"\x7f"), here.press(b"2"))],
                   "at most 20 ms, 400 bytes"))  # fmt: skip
        count, share = here.idle(idle_s)
        print(f"idle for {idle_s:g} s in the form: {count} bytes, {share * 100:.2f} % of a core (at most 0, 0.1 %)")
        saves = []
        for number in range(6):
            for key in (b"\r", b"\x0c", b"0.99%d" % (number + 3)):
                here.press(key)
            saves.append(here.press(b"\x13", 2.0))
        print(told("ctrl+s", saves, "at most 50 ms"))
        here.end()


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
