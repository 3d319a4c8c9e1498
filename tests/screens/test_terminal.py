"""The round in a real terminal: by tmux, and on a bare pseudo-terminal for what must not be written."""

import os
import re
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest
from screens.pseudo_terminal import PATIENCE, Terminal, environment
from screens.small_cellar import made, usual

from mustwatch.ledger.store import Ledger

SAMPLE = Path(__file__).parents[2] / "sample_cellar"


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
