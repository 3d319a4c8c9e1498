"""Time to the first frame of the round on the sample cellar, against a bare Textual app, as whole processes.

Both are started in a pseudo-terminal of 80x24 by turns, and timed from the
start of the process until the whole first frame has been written: for the
bare app its header, the last of its 12 rows and its footer; for the round its
header, the last row of its list, the form and the foot. Run it with

    python tests/bench/bench_first_frame.py [CELLAR]

or with pytest. The bar: at most 1.8 times the bare app, by medians.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import statistics
import struct
import sys
import tempfile
import termios
import time
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "sample_cellar"
RUNS = 9
MOST = 1.8
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


def seconds_to_frame(command: Sequence[str], marks: Sequence[bytes], environ: dict[str, str]) -> float:
    """Seconds from the start of a process until every mark has been written to its terminal."""
    started = time.perf_counter()
    child, terminal = pty.fork()
    if child == 0:
        os.execve(command[0], list(command), environ)
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    written = b""
    try:
        while not all(mark in written for mark in marks):
            if time.perf_counter() - started > 30 or not select.select([terminal], [], [], 30)[0]:
                raise RuntimeError(f"no first frame in 30 s; last written: {written[-400:]!r}")
            try:
                written += os.read(terminal, 65536)
            except OSError:
                raise RuntimeError(f"ended before its first frame: {written[-800:]!r}") from None
        return time.perf_counter() - started
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(terminal)


def measured(cellar: Path, runs: int = RUNS) -> tuple[float, float]:
    """Median seconds of (the bare app, the round)."""
    with tempfile.TemporaryDirectory() as home:
        environ = os.environ | {
            "TERM": "xterm-256color", "LANG": "C.UTF-8", "LC_ALL": "C.UTF-8",
            "XDG_STATE_HOME": f"{home}/state", "XDG_CACHE_HOME": f"{home}/cache",
        }  # fmt: skip
        for name in ("NO_COLOR", "MUSTWATCH_ASCII", "MUSTWATCH_DEBUG"):
            environ.pop(name, None)
        bare = [sys.executable, "-c", BARE]
        ours = [sys.executable, "-m", "mustwatch", "--cellar", str(cellar)]
        marks = (b"gravity", b"when", b"all keys", last_row(cellar).encode())
        times: tuple[list[float], list[float]] = ([], [])
        for run in range(runs + 1):
            took = (
                seconds_to_frame(bare, (b"batch-11", b"Leaving"), environ),
                seconds_to_frame(ours, marks, environ),
            )
            if run:  # the first pair only warms the disk
                times[0].append(took[0])
                times[1].append(took[1])
        return statistics.median(times[0]), statistics.median(times[1])


def last_row(cellar: Path) -> str:
    """The tag of the last row of the list, as far as the narrow list shows it."""
    from datetime import datetime

    from mustwatch.commands.context import Context
    from mustwatch.screens.look import Look
    from mustwatch.screens.round.rows import matching, rows_of

    context = Context(cellar, None, lambda: datetime.now().astimezone())
    look = Look(context, context.settings)
    rows = matching(rows_of(look.cellar, look.findings), "", False)
    return rows[:13][-1].tag[:7]


def test_first_frame_comes_within_1_8_times_a_bare_app():
    """The round is opened with wet hands, many times a day."""
    import pytest

    if not SAMPLE.is_dir():
        pytest.skip("no sample cellar here")
    bare, ours = measured(SAMPLE)
    assert ours <= MOST * bare, f"{ours:.3f} s against {bare:.3f} s"


if __name__ == "__main__":
    bare_s, ours_s = measured(Path(sys.argv[1]) if len(sys.argv) > 1 else SAMPLE)
    print(f"bare app {bare_s:.3f} s, round {ours_s:.3f} s, ratio {ours_s / bare_s:.2f} (at most {MOST})")
    sys.exit(ours_s > MOST * bare_s)
