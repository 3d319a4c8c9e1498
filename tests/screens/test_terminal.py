"""The round in a real terminal: by tmux, and on a bare pseudo-terminal for what must not be written."""

import fcntl
import json
import os
import pty
import re
import select
import shutil
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

import pytest
from screens.small_cellar import made, usual

from mustwatch.ledger.store import Ledger

SAMPLE = Path(__file__).parents[2] / "sample_cellar"
PATIENCE = 40.0  # seconds; a busy machine is no failure


def environment(tmp_path, **more) -> dict[str, str]:
    """A plain terminal's environment with a state of its own."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    own = {f"XDG_{name}_HOME": str(tmp_path / name.lower()) for name in ("STATE", "CACHE", "DATA")}
    return {**kept, **own, "TERM": "xterm-256color", "LANG": "C.UTF-8", "LC_ALL": "C.UTF-8", **more}


class Terminal:
    """The round on a pseudo-terminal of 80x24."""

    def __init__(self, cellar: Path, environ: dict[str, str], size: tuple[int, int] = (24, 80)) -> None:
        self.written = b""
        self.pid, self.master = pty.fork()
        if self.pid == 0:
            os.execve(sys.executable, [sys.executable, "-m", "mustwatch", "--cellar", str(cellar)], environ)
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, struct.pack("HHHH", *size, 0, 0))

    def read_for(self, seconds: float, until: bytes | None = None) -> bytes:
        """What is written within so many seconds, or until it holds something."""
        got, end = b"", time.monotonic() + seconds
        while time.monotonic() < end and not (until and until in self.written):
            if select.select([self.master], [], [], 0.05)[0]:
                try:
                    part = os.read(self.master, 65536)
                except OSError:
                    break
                got += part
                self.written += part
        return got

    def settle(self) -> None:
        """Waits until all is drawn and nothing has been written for two seconds."""
        self.read_for(PATIENCE, b"all keys")
        assert b"all keys" in self.written, f"the round never came; last written: {self.written[-800:]!r}"
        end = time.monotonic() + PATIENCE
        while self.read_for(2.0) and time.monotonic() < end:
            pass

    def type(self, text: str) -> None:
        """Sends keys, a little apart as fingers do."""
        for char in text:
            os.write(self.master, char.encode())
            self.read_for(0.15)

    def ended(self) -> int | None:
        """The exit status once the process has ended, else None; reads on meanwhile."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            if pid:
                return os.waitstatus_to_exitcode(status)
            self.read_for(0.1)
        return None

    def close(self) -> None:
        """Ends what is left."""
        try:
            os.kill(self.pid, signal.SIGKILL)
            os.waitpid(self.pid, 0)
        except (ProcessLookupError, ChildProcessError):
            pass


@pytest.fixture
def cellar(tmp_path):
    """Three batches."""
    return made(tmp_path / "cellar", usual())


@pytest.fixture
def terminal(tmp_path, cellar):
    """The round, settled on a terminal."""
    opened = Terminal(cellar, environment(tmp_path))
    opened.settle()
    yield opened
    opened.close()


def test_nothing_is_written_while_idle(terminal):
    """Over a slow line, and on a battery, an idle screen is silent: in the list and in the form."""
    assert terminal.read_for(5.0) == b""
    terminal.type("r")
    terminal.settle()
    assert terminal.read_for(5.0) == b""


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_restores_the_screen_and_keeps_what_was_typed(terminal, cellar, tmp_path, number):
    """The terminal is left as it was found; the entry is offered again."""
    terminal.type("n")
    terminal.read_for(1.0)
    terminal.type("odd")
    terminal.read_for(1.0)
    os.kill(terminal.pid, number)
    assert terminal.ended() == 128 + number
    terminal.read_for(0.5)
    assert b"\x1b[?1049l" in terminal.written and b"\x1b[?25h" in terminal.written
    kept = json.loads((tmp_path / "state" / "mustwatch" / "unsent.json").read_text())
    assert kept == {str(cellar): {"sealed-1": {"note": "odd"}}}


def test_a_closed_terminal_ends_the_process_and_keeps_what_was_typed(terminal, tmp_path):
    """A dropped connection leaves nothing running behind."""
    terminal.type("n")
    terminal.read_for(1.0)
    terminal.type("odd")
    terminal.read_for(0.3)
    os.close(terminal.master)
    end = time.monotonic() + PATIENCE
    status = None
    while status is None and time.monotonic() < end:
        pid, found = os.waitpid(terminal.pid, os.WNOHANG)
        status = found if pid else None
        time.sleep(0.1)
    assert status is not None
    assert "odd" in (tmp_path / "state" / "mustwatch" / "unsent.json").read_text()


def test_a_terminal_that_tells_no_size_comes_to_rest(tmp_path, cellar):
    """Some serial lines say 0 by 0."""
    opened = Terminal(cellar, environment(tmp_path), size=(0, 0))
    try:
        opened.settle()
        assert opened.read_for(3.0) == b""
    finally:
        opened.close()


def test_without_colour_no_colour_is_asked_for(tmp_path, cellar):
    """NO_COLOR is obeyed to the letter: only the default colours and no others are named."""
    opened = Terminal(cellar, environment(tmp_path, NO_COLOR="1"))
    try:
        opened.settle()
        codes = {code for found in re.findall(rb"\x1b\[([\d;]*)m", opened.written) for code in found.split(b";")}
        assert not codes & {str(code).encode() for code in (*range(30, 39), *range(40, 49), *range(90, 108))}
    finally:
        opened.close()


def test_only_the_sixteen_colours_of_the_terminal_are_used(terminal):
    """Its user chose them to be readable."""
    assert not re.search(rb"\x1b\[[\d;]*[34]8;[25]", terminal.written)


@pytest.mark.skipif(shutil.which("tmux") is None, reason="tmux is not installed here")
def test_the_sample_cellar_is_opened_a_reading_logged_and_seen_on_the_screen(tmp_path):
    """The whole line from key to disk to screen, as its user sees it."""
    cellar = tmp_path / "cellar"
    if SAMPLE.is_dir():
        shutil.copytree(SAMPLE, cellar)
        text = (cellar / "cellar.toml").read_text()
        (cellar / "cellar.toml").write_text(re.sub(r"(?m)^pinned.*$", "", text))
    else:
        made(cellar, usual())
    before = {event.id for event in Ledger(cellar).read().events}
    tmux = ["tmux", "-L", f"mw{os.getpid()}", "-f", os.devnull]
    environ = environment(tmp_path, TERM="screen-256color")
    command = f"{sys.executable} -m mustwatch --cellar {cellar}"
    subprocess.run([*tmux, "new-session", "-d", "-x", "80", "-y", "24", command], check=True, env=environ)

    def screen() -> str:
        return subprocess.run([*tmux, "capture-pane", "-p"], capture_output=True, text=True, env=environ).stdout

    def until(words: str) -> str:
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            if words in screen():
                return screen()
            time.sleep(0.1)
        raise AssertionError(f"{words!r} never came:\n{screen()}")

    def keys(*names: str) -> None:
        subprocess.run([*tmux, "send-keys", *names], check=True, env=environ)

    try:
        first = until("all keys")
        assert len(first.splitlines()) <= 24 and "reading of" in first
        keys("r")
        until("ctrl+s save and next")
        keys("-l", "1.039")
        keys("Tab", "Tab")
        keys("-l", "24C")
        until("-> 1.040")
        keys("C-s")
        until("saved ")
        new = [event for event in Ledger(cellar).read().events if event.id not in before]
        last = [event for event in new if not event.by_itself]  # the save also noted how far the other device was seen
        assert [(event.kind, event.gravity.value, event.gravity.sample_c) for event in last] == [("read", 1.039, 24.0)]
        keys("Escape")
        until("all keys")
        keys("q")
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end and subprocess.run([*tmux, "has-session"], capture_output=True).returncode == 0:
            time.sleep(0.1)
        assert subprocess.run([*tmux, "has-session"], capture_output=True).returncode != 0
    finally:
        subprocess.run([*tmux, "kill-server"], capture_output=True)
