"""A monkey at the round: random keys, mouse reports and bytes that are no keys, while another device writes too.

One process of the round takes it all on a pseudo-terminal. Another device appends to the same cellar meanwhile. At
each tenth the resident memory is printed beside the count of events, for each event takes its place in it. At the
end the round must still be there, every event of both must be in the ledger, and `verify` must find it sound.

    python -m tests.bench.bench_monkey [KEYS] [SEED]
"""

from __future__ import annotations

import fcntl
import os
import pty
import random
import select
import signal
import struct
import subprocess
import sys
import tempfile
import termios
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import islice
from pathlib import Path

from mustwatch.ledger.drafts import draft
from mustwatch.ledger.store import Ledger

SOURCE = Path(__file__).parents[2] / "src"
ENTER, TAB, ESCAPE, BACK, EMPTY, SAVE = b"\r", b"\t", b"\x1b[27u", b"\x7f", b"\x0c", b"\x13"
MOVES = [b"\x1b[A", b"\x1b[B", b"\x1b[C", b"\x1b[D", b"\x1b[5~", b"\x1b[6~", b"\x1b[H", b"\x1b[F", b"\x1b[Z"]
LETTERS = [letter.encode() for letter in "abcdefghijklmnoprstuvwxyz?=/.,:-+@\"'"]  # all but the one that leaves
FIGURES = [b"1.042", b"21C", b"pH3.6", b"+5g nutrient", b"@yesterday", b"jug", b"5 l", b"3", b"7", b"\xc3\xa9"]
NO_KEYS = [
    b"\xff", b"\xe2\x82", b"\xc2\x9b31m", b"\x1b[M !!", b"\x1b[Mll\xff", b"\x1b[32;10;5M", b"\x1b[1114112u",
    b"\x1b[55296u", b"\x1b[108~", b"\x1b[48;24;80;0;0t", b"\x1b[48;99999;99999;1;1t", b"\x1b[?2048;1$y",
    b"\x1b[" + b"9" * 300 + b"u", b"\x1b]52;c;AAAA\x07", b"\x1bP1$r0m\x1b\\", b"\x1b[1;\x1b]2;x\x07", b"\x1bl", b"\x00",
    b"\x1b[97;1:3u", b"\x1b[97;;27u", b"\x1b[200~l\x1b[A\x0e\xe2\x80\xae\x9b\x1b[201~",
]  # fmt: skip
# What a monkey would hardly find: every batch in sight again, a reading saved, back from wherever it is.
DEEDS = [[ESCAPE, ESCAPE, ESCAPE, b"/", b"\x15", ENTER], [ESCAPE, ESCAPE, ESCAPE, b"r", EMPTY, b"1.05", b"5", SAVE]]
UNFINISHED = [b"\x1b[200~l", b"\x1b]0;l", b"\x1bPl", b"\x1b[1;", b"\x1b[M"]
BURST = 20
APPEND_EVERY = 400
SIZES = ((24, 80), (36, 120), (15, 40), (24, 79))


@dataclass
class Tenth:
    """How the round stood after so many keys. rss_kb: resident; events: in the ledger, of both devices."""

    keys: int
    rss_kb: int
    events: int


@dataclass
class Outcome:
    """What became of it. status: of the round, ended by a signal; sound: what `verify` said."""

    seconds: float = 0.0
    tenths: list[Tenth] = field(default_factory=list)
    appended: int = 0
    kept: int = 0
    own: int = 0
    alive: bool = False
    status: int | None = None
    sound: bool = False
    said: str = ""


class Process:
    """The round on a pseudo-terminal whose output is read and thrown away."""

    def __init__(self, cellar: Path, home: Path) -> None:
        own = {f"XDG_{name}_HOME": str(home / name.lower()) for name in ("STATE", "CACHE", "DATA")}
        environ = {**os.environ, **own, "TERM": "xterm-256color", "LC_ALL": "C.UTF-8", "PYTHONPATH": str(SOURCE)}
        self.pid, self.master = pty.fork()
        if self.pid == 0:
            os.execve(sys.executable, [sys.executable, "-m", "mustwatch", "--cellar", str(cellar)], environ)
        self.last, self.status = b"", None
        self.resize((24, 80))
        threading.Thread(target=self._drain, daemon=True).start()

    def _drain(self) -> None:
        while True:
            try:
                self.last = (self.last + os.read(self.master, 65536))[-6000:]
            except OSError:
                return

    def resize(self, size: tuple[int, int]) -> None:
        """Another size of the window."""
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, struct.pack("HHHH", *size, 0, 0))

    def send(self, data: bytes) -> None:
        """Bytes, as far as the terminal takes them at once."""
        if select.select([], [self.master], [], 5)[1]:
            os.write(self.master, data)

    def rest(self, most: float = 30.0) -> None:
        """Waits until its main thread sleeps, which it does only when nothing is left to do."""
        end, quiet = time.monotonic() + most, 0
        while quiet < 3 and time.monotonic() < end and self.alive():
            time.sleep(0.004)
            state = Path(f"/proc/{self.pid}/stat").read_text().rpartition(")")[2].split()[0]
            quiet = quiet + 1 if state == "S" else 0

    def alive(self) -> bool:
        """Whether it runs."""
        if self.status is None:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            self.status = os.waitstatus_to_exitcode(status) if pid else None
        return self.status is None

    def rss_kb(self) -> int:
        """Its resident memory."""
        lines = Path(f"/proc/{self.pid}/status").read_text().splitlines()
        return int(next(line.split()[1] for line in lines if line.startswith("VmRSS")))

    def end(self) -> int | None:
        """Its status after SIGTERM."""
        os.kill(self.pid, signal.SIGTERM)
        end = time.monotonic() + 10
        while self.alive() and time.monotonic() < end:
            time.sleep(0.02)
        return self.status


def a_cellar(path: Path, now: datetime) -> None:
    """Five batches under way."""
    Ledger.make(path, '[cellar]\nname = "Under the stairs"\n')
    events = []
    for number in range(5):
        tag, start = f"quiet-{number}", now - timedelta(days=9 - number)
        events.append(draft("mixed", start, tag, volume_l=4.5, vessel={"kind": "jug", "capacity_l": 5}))
        events.append(draft("pitched", start + timedelta(hours=1), tag, yeast={"class": "ale"}, must_c=20))
        events.append(draft("closed", start + timedelta(hours=1), tag, closure="airlock"))
        for day, sg in enumerate((1.100, 1.080, 1.060)):
            gravity = {"value": sg, "scale": "sg", "sample_c": 20}
            events.append(draft("read", start + timedelta(days=day, hours=2), tag, gravity=gravity, must_c=20))
    Ledger(path).append(events, now)


def keys_of(dice: random.Random) -> Iterator[bytes]:
    """Keys without end."""
    while True:
        yield from dice.choice(DEEDS) if dice.random() < 0.003 else (a_key(dice),)


def a_key(dice: random.Random) -> bytes:
    """One key, mouse report, paste or piece of nonsense."""
    kind = dice.random()
    if kind < 0.30:
        return dice.choice(MOVES)
    if kind < 0.50:
        return dice.choice((ENTER, TAB, ESCAPE, ESCAPE, BACK, EMPTY))
    if kind < 0.70:
        return dice.choice(LETTERS)
    if kind < 0.78:
        return dice.choice(FIGURES)
    if kind < 0.785:
        return SAVE
    if kind < 0.90:
        button = dice.choice((0, 0, 2, 32, 35, 64, 65, 3))
        return b"\x1b[<%d;%d;%d%c" % (button, dice.randint(1, 130), dice.randint(1, 40), dice.choice(b"Mm"))
    if kind < 0.9998:
        return dice.choice(NO_KEYS)
    return dice.choice(UNFINISHED)


def play(keys: int, seed: int, home: Path, tell=print) -> Outcome:
    """Lets the monkey type so many keys."""
    dice, done, started = random.Random(seed), Outcome(), time.monotonic()
    cellar, now = home / "cellar", datetime.now(UTC)
    # Two homes, two devices.
    os.environ["XDG_STATE_HOME"] = str(home / "other")
    a_cellar(cellar, now)
    before = len(Ledger(cellar).read().events)
    process = Process(cellar, home)
    time.sleep(3)
    for count, key in enumerate(islice(keys_of(dice), keys), 1):
        process.send(key)
        if count % BURST == 0:
            process.rest()
        if count % APPEND_EVERY == 0 and process.alive():
            note = draft("noted", datetime.now(UTC), f"quiet-{dice.randrange(5)}", note=f"from outside {count}")
            Ledger(cellar).append([note], datetime.now(UTC))
            done.appended += 1
        if dice.random() < 0.0005:
            process.resize(dice.choice(SIZES))
        if count % max(1, keys // 10) == 0:
            process.rest()
            if not process.alive():
                break
            done.tenths.append(Tenth(count, process.rss_kb(), len(Ledger(cellar).read().events)))
            tell(f"{count} keys  {done.tenths[-1].rss_kb / 1024:.1f} MiB  {done.tenths[-1].events} events"
                 f"  {time.monotonic() - started:.0f} s", flush=True)  # fmt: skip
    done.alive = process.alive()
    done.status = process.end() if done.alive else process.status
    time.sleep(0.3)
    done.said = process.last.decode("utf-8", "replace")
    found = Ledger(cellar).read()
    done.kept = sum((event.note or "").startswith("from outside") for event in found.events)
    done.own = len(found.events) - before - done.appended
    words = [sys.executable, "-m", "mustwatch", "--cellar", str(cellar), "verify"]
    environ = {**os.environ, "PYTHONPATH": str(SOURCE), "XDG_STATE_HOME": str(home / "state")}
    verified = subprocess.run(words, capture_output=True, text=True, env=environ)
    done.sound = verified.returncode == 0
    done.said = done.said if done.sound else verified.stdout + verified.stderr
    done.seconds = time.monotonic() - started
    return done


def main() -> int:
    """The numbers; 1 where something was lost."""
    keys = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    with tempfile.TemporaryDirectory() as home:
        done = play(keys, seed, Path(home))
    print(f"{keys} keys, seed {seed}, {done.seconds:.0f} s; from outside {done.appended}, of them kept {done.kept}; "
          f"the round's own {done.own}; {'status after SIGTERM' if done.alive else 'IT ENDED WITH'} {done.status}; "
          f"verify {'sound' if done.sound else 'FOUND'}")  # fmt: skip
    good = done.alive and done.kept == done.appended and done.status == 128 + signal.SIGTERM and done.sound
    if not good:
        print(done.said[-3000:])
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
