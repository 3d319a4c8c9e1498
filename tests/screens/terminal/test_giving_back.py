"""However the round ends, on a real terminal: what was typed is kept, the terminal is as it was, the status says so."""

import json
import os
import re
import signal
import termios
import time

import pytest
from screens.pseudo_terminal import Terminal, environment
from screens.small_cellar import made, usual
from screens.terminal.test_sieve import NO_KEYS

from mustwatch.ledger.store import Ledger
from mustwatch.screens.terminal.giving_back import ENDING

MODES = {"1049": "l", "25": "h", "1000": "l", "1003": "l", "1006": "l", "1015": "l", "2004": "l", "1004": "l", "7": "h"}
NAMED = "a fault of the program, please report it"


class Round:
    """The round with a note begun for its first batch; the terminal's settings before."""

    def __init__(self, tmp_path, before: str = "", **more: str) -> None:
        self.cellar, self.state = made(tmp_path / "cellar", usual()), tmp_path / "state" / "mustwatch"
        self.terminal = Terminal(self.cellar, environment(tmp_path, **more), before=before)
        self.attributes = termios.tcgetattr(self.terminal.master)
        self.terminal.settle()
        self.terminal.type("n")
        self.terminal.read_for(0.5)
        self.terminal.type("odd")
        self.terminal.until(b"odd")

    def ends(self, status: int) -> str:
        """Waits for the end; holds terminal, status and what is kept to what they must be. What was said at the end."""
        assert self.terminal.ended() == status
        self.terminal.read_for(0.5)
        written = self.terminal.written
        modes = {}
        for numbers, sign in re.findall(rb"\x1b\[\?([\d;]+)([hl])", written):
            modes |= {number: sign.decode() for number in numbers.decode().split(";")}
        assert {mode: modes.get(mode, sign) for mode, sign in MODES.items()} == MODES
        assert written.count(b"\x1b[>") <= written.count(b"\x1b[<u"), "keys of their own are given back"
        assert termios.tcgetattr(self.terminal.master) == self.attributes
        assert json.loads((self.state / "unsent.json").read_text()) == {str(self.cellar): {"sealed-1": {"note": "odd"}}}
        said = re.sub(rb"\x1b\[[0-?]*[ -/]*[@-~]", b"", written[written.rindex(b"\x1b[?1049l") :]).decode()
        assert "Traceback" not in said
        return said.strip()


@pytest.fixture
def begun(tmp_path):
    """Begins a round, and ends what is left of it."""
    rounds: list[Round] = []

    def begin(**more) -> Round:
        rounds.append(Round(tmp_path, **more))
        return rounds[-1]

    yield begin
    for one in rounds:
        one.terminal.close()


@pytest.mark.parametrize("number", ENDING, ids=lambda number: number.name)
def test_a_signal_restores_the_terminal_and_keeps_what_was_typed(begun, number):
    """Each that ends a program; none of them is a way of saving."""
    one = begun()
    os.kill(one.terminal.pid, number)
    assert one.ends(128 + number) == ""


def test_bytes_that_are_no_key_end_nothing(begun):
    """The round goes on, what is typed stays, and the key after each of them does what it does."""
    one = begun()
    count = len(Ledger(one.cellar).read().events)
    for data in NO_KEYS.values():
        one.terminal.send(data)
    one.terminal.send(b"\x1b[48;24;80;0;0t\x1b[<35;5;5M")
    one.terminal.read_for(4.0)
    one.terminal.type("!")
    one.terminal.until(b"odd!")
    one.terminal.type("\x7f")
    os.kill(one.terminal.pid, signal.SIGTERM)
    one.ends(128 + signal.SIGTERM)
    assert len(Ledger(one.cellar).read().events) == count


def test_an_arrow_cut_in_two_writes_nothing(begun):
    """A slow line parts its bytes: in the list its tail would be letters, and letters are acts."""
    one = begun()
    count = len(Ledger(one.cellar).read().events)
    for pause in (0.12, 0.25, 0.6, 1.5):
        for head, tail in ((b"\x1b", b"[A"), (b"\x1b[", b"B"), (b"\x1b", b"OB"), (b"\x1b[1;", b"5D")):
            one.terminal.send(head, pause)
            one.terminal.send(tail, 0.1)
    assert one.terminal.written.count(b"\x1b[?1049l") == 0
    assert len(Ledger(one.cellar).read().events) == count


BROKEN = {
    "reader": "from textual._xterm_parser import XTermParser as C\nC.parse_mouse_code = lambda *_: 1 / 0",
    "thread": "from mustwatch.screens.terminal.sieve import Sieve as C\nC._sane = lambda *_: 1 / 0",
    "drawing": "from mustwatch.screens.round.batch_list import BatchList as C\nC.on_click = lambda *_: 1 / 0",
    "library": "from textual.app import App as C\n"
    "async def broken(self, event):\n"
    "    if type(event).__name__.startswith('Mouse'): 1 / 0\n"
    "    await before(self, event)\n"
    "before, C.on_event = C.on_event, broken",
}


@pytest.mark.parametrize("name", ["thread", "library"])
def test_a_fault_of_the_program_says_one_line_and_loses_nothing(begun, name):
    """Wherever it lies: in the thread that reads keys, or in the loop that deals with them."""
    one = begun(before=BROKEN[name])
    one.terminal.send(b"\x1b[<0;3;3M\x1b[<0;3;3m")
    said = one.ends(2)
    assert said == f"mustwatch: {NAMED}: ZeroDivisionError: division by zero; what was typed is kept"


def test_a_reader_of_keys_that_fails_reads_on(begun):
    """The fault is upstream's, the key is lost, the round is not."""
    one = begun(before=BROKEN["reader"])
    one.terminal.send(b"\x1b[<0;3;3M")
    one.terminal.type("!")
    one.terminal.until(b"odd!")


def test_a_round_that_hangs_is_ended_all_the_same(begun):
    """Nothing answers any more, and the signal still gives the terminal back."""
    hangs = "from textual.app import App as C\nimport time\nC.exit = lambda *_, **more: time.sleep(1000)"
    one = begun(before=hangs)
    started = time.monotonic()
    os.kill(one.terminal.pid, signal.SIGTERM)
    one.ends(128 + signal.SIGTERM)
    assert time.monotonic() - started > 2


def test_what_a_fault_says_does_not_act_on_the_terminal(begun):
    """A message may quote data."""
    one = begun(before="from mustwatch.screens.terminal.sieve import Sieve as C\n"
                "def broken(*_): raise ValueError('\\x1b[2J\\u202e')\nC._sane = broken")  # fmt: skip
    one.terminal.send(b"\x1b[<0;3;3M")
    assert one.ends(2) == f"mustwatch: {NAMED}: ValueError: <1b>[2J<202e>; what was typed is kept"


def test_the_key_that_leaves_waits_for_no_forecast(begun):
    """A forecast takes its time, a thread cannot be called back, and who leaves wants to be gone."""
    one = begun(before="from mustwatch.screens.look import Look as C\nimport time\n"
                "C.make_outlook = lambda *_: time.sleep(1000)")  # fmt: skip
    one.terminal.send(b"\x1b[27u")
    one.terminal.type("q")
    assert one.ends(0) == ""
