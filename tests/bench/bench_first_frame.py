"""The first frame of the round against that of a bare Textual app: processor time, wall time, memory, bytes.

    python -m tests.bench.bench_first_frame [RUNS] [CELLAR]

Both are started by turns in a pseudo-terminal of 80x24, on one core. The bare app has a header, a table of 12 rows
and a footer. A first frame is there when its header, its last row and its foot have been written; from then on a
program is settled when it has written nothing for a second. Smallest of the runs; processor time is that of all
threads. A third is the round on a cellar of 300 batches over ten years, whose ratio is to the round on the sample.
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
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from tests.bench.bench_commands import SAMPLE, on_one_core, surroundings
from tests.bench.large_cellar import made

BARE = """
from textual.app import App
from textual.widgets import DataTable, Footer, Header

class Bare(App):
    BINDINGS = [("q", "quit", "Leaving")]

    def compose(self):
        yield Header()
        yield DataTable()
        yield Footer()

    def on_mount(self):
        table = self.query_one(DataTable)
        table.add_columns("batch", "stage", "gravity", "seen")
        for number in range(12):
            table.add_row(f"batch-{number}", "primary", "1.042", "2d")

Bare().run()
"""
STILL_S = 1.0  # so long nothing is written by a program that has settled
BARS = {"frame_cpu_s": 1.35, "frame_s": 1.35, "frame_mib": 1.3, "settled_bytes": 1.25}
LARGE_BARS = {"frame_cpu_s": 1.2, "frame_s": 1.2}


class Start(NamedTuple):
    """One start of a program: until its first frame and until it has settled."""

    frame_cpu_s: float
    frame_s: float
    frame_bytes: float
    frame_mib: float
    settled_cpu_s: float
    settled_bytes: float
    settled_mib: float


def started(command: Sequence[str], marks: Sequence[bytes], environ: dict[str, str]) -> Start:
    """What one start takes; the process is killed then. Raises RuntimeError where no frame comes."""
    began = time.perf_counter()
    child, terminal = pty.fork()
    if child == 0:
        os.execve(command[0], list(command), environ)
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    written = b""
    try:
        while not all(mark in written for mark in marks):
            if not (more := _read(terminal, 30)):
                raise RuntimeError(f"no first frame; last written: {written[-800:]!r}")
            written += more
        frame = (_cpu_s(child), time.perf_counter() - began, float(len(written)), _peak_mib(child))
        while more := _read(terminal, STILL_S):
            written += more
        return Start(*frame, _cpu_s(child), float(len(written)), _peak_mib(child))
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(terminal)


def _read(terminal: int, patience_s: float) -> bytes:
    if not select.select([terminal], [], [], patience_s)[0]:
        return b""
    try:
        return os.read(terminal, 1 << 16)
    except OSError:
        return b""


def _cpu_s(process: int) -> float:
    """Seconds that all threads of a process have been on a processor."""
    spent = 0
    for thread in Path(f"/proc/{process}/task").iterdir():
        spent += int((thread / "schedstat").read_text(encoding="ascii").split()[0])
    return spent / 1e9


def _peak_mib(process: int) -> float:
    status = Path(f"/proc/{process}/status").read_text(encoding="ascii")
    return next(int(line.split()[1]) / 1024 for line in status.splitlines() if line.startswith("VmHWM"))


def last_row(cellar: Path) -> str:
    """The tag of the last row of the list, as far as the narrow list shows it."""
    from mustwatch.commands.context import Context
    from mustwatch.screens.look import Look
    from mustwatch.screens.round.rows import matching, rows_of

    context = Context(cellar, None, lambda: datetime.now().astimezone())
    look = Look(context, context.settings)
    rows = matching(rows_of(look.cellar, look.findings), "", False)
    return rows[:13][-1].tag[:7]


def smallest(starts: list[Start]) -> Start:
    """The smallest of each figure."""
    return Start(*(min(each) for each in zip(*starts, strict=True)))


def measured(runs: int, cellar: Path) -> tuple[Start, Start, Start]:
    """The smallest of the bare app, the round on a cellar, and the round on a large one."""
    with tempfile.TemporaryDirectory() as place:
        large = made(Path(place) / "large", 300, years=10)
        programs = [([sys.executable, "-c", BARE], (b"batch-11", b"Leaving"))]
        for folder in (cellar, large):
            command = [sys.executable, "-m", "mustwatch", "--cellar", str(folder)]
            programs.append((command, (b"when", b"all keys", last_row(folder).encode())))
        environ = surroundings(Path(place)) | {"TERM": "xterm-256color", "LANG": "C.UTF-8", "LC_ALL": "C.UTF-8"}
        environ.pop("NO_COLOR", None)
        starts: list[list[Start]] = [[], [], []]
        for run in range(runs + 1):
            for number, (command, marks) in enumerate(programs):
                start = started(command, marks, environ)
                if run:  # the first of each only warms the disk and writes the bytecode
                    starts[number].append(start)
    bare, ours, many = map(smallest, starts)
    return bare, ours, many


def main(runs: int = 7, cellar: Path = SAMPLE) -> int:
    """Prints the table; 1 where a bar is missed."""
    on_one_core()
    bare, ours, many = measured(runs, cellar)
    missed = False
    print(f"{'':<16}{'bare app':>12}{'round':>12}{'ratio':>7}{'300 batches':>14}{'to round':>10}")
    for name in Start._fields:
        base, mine, most = (float(getattr(each, name)) for each in (bare, ours, many))
        unit = 1000 if name.endswith("_s") else 1
        bars = [f"{each[name]}" if name in each else "" for each in (BARS, LARGE_BARS)]
        missed |= any(
            name in each and share > each[name] for each, share in ((BARS, mine / base), (LARGE_BARS, most / mine))
        )
        print(
            f"{name.replace('_s', '_ms') if unit > 1 else name:<16}{base * unit:12.1f}{mine * unit:12.1f}"
            f"{mine / base:7.2f}{most * unit:14.1f}{most / mine:10.2f}   (at most {', '.join(bars)})"
        )
    return int(missed)


if __name__ == "__main__":
    sys.exit(main(*(convert(word) for convert, word in zip((int, Path), sys.argv[1:], strict=False))))
