"""The ledger through the command line, from outside: killed, starved of disk, hurried by others at once.

An append that ended with exit status 0 is acknowledged: it must be listed afterwards, once, whatever happened.
"""

import json
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

import pytest

pytestmark = pytest.mark.timeout(600)
WRITES = "write,fsync,fdatasync,ftruncate,rename,mkdir,openat"


class Outside:
    """A cellar known only through the program's command line."""

    def __init__(self, root) -> None:
        self.root, self.cellar = root, root / "cellar"
        self.count = 0
        self.env = dict(os.environ, XDG_STATE_HOME=str(root / "state"))
        self.env["PYTHONPATH"] = os.pathsep.join(sys.path)
        assert self.run("init").returncode == 0

    def command(self, *words):
        return [sys.executable, "-m", "mustwatch", "--cellar", str(self.cellar), *words]

    def run(self, *words, before=(), **more):
        ran = subprocess.run([*before, *self.command(*words)], capture_output=True, env=self.env, timeout=60, **more)
        assert b"Traceback" not in ran.stderr
        return ran

    def word(self) -> str:
        self.count += 1
        return f"word{self.count:04d}"

    def append(self, **more) -> str | None:
        """The word if it was acknowledged; if not, the reason was one line."""
        word = self.word()
        ran = self.run("note", "-", word, **more)
        if ran.returncode == 0:
            return word
        assert ran.returncode < 0 or (ran.returncode == 3 and ran.stderr.count(b"\n") == 1), ran
        return None

    def listed(self) -> list[str]:
        ran = self.run("events")
        assert ran.returncode == 0, ran.stderr
        return [json.loads(line)["note"] for line in ran.stdout.splitlines()]

    def whole(self) -> None:
        """No file of events ends in the middle of a line."""
        for path in (self.cellar / "events").glob("*.jsonl"):
            assert path.read_bytes()[-1:] in (b"\n", b""), path


@pytest.fixture
def outside(tmp_path):
    """A new cellar, seen from outside."""
    return Outside(tmp_path)


def test_writers_at_once_lose_nothing(outside):
    """Four programs, twenty events, one file."""
    with ThreadPoolExecutor(4) as pool:
        said = list(pool.map(lambda _: outside.append(), range(20)))
    assert sorted(outside.listed()) == sorted(said) and None not in said
    outside.whole()
    assert outside.run("verify").returncode == 0


def test_killed_at_any_moment_nothing_acknowledged_is_lost(outside):
    """kill -9 at a random moment of the save, twelve times."""
    said = [outside.append()]
    for _ in range(12):
        word = outside.word()
        running = subprocess.Popen(
            outside.command("note", "-", word), env=outside.env, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
        )
        try:
            running.wait(random.uniform(0.05, 0.6))
        except subprocess.TimeoutExpired:
            running.send_signal(signal.SIGKILL)
        running.communicate()
        if running.returncode == 0:
            said.append(word)
    said.append(outside.append())
    listed = outside.listed()
    assert None not in said and set(said) <= set(listed) and len(listed) == len(set(listed))
    outside.whole()


def test_a_file_that_may_not_grow_is_told_and_left_whole(outside):
    """A quota met in the middle of a line."""
    said = [outside.append()]
    (path,) = (outside.cellar / "events").glob("*.jsonl")
    limit = path.stat().st_size + 40

    def limited():
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    refused = outside.append(preexec_fn=limited)
    assert refused is None and outside.listed() == said
    outside.whole()
    said.append(outside.append())
    assert outside.listed() == said


def test_writers_that_meet_a_torn_end_mend_it_once(outside):
    """One sets it aside; nobody's event is cut off."""
    said = [outside.append()]
    (path,) = (outside.cellar / "events").glob("*.jsonl")
    with path.open("ab") as file:
        file.write(b'{"v":1,"torn":"half')
    with ThreadPoolExecutor(4) as pool:
        said += list(pool.map(lambda _: outside.append(), range(4)))
    assert sorted(outside.listed()) == sorted(said)
    assert [p.read_bytes() for p in (outside.cellar / "aside").iterdir()] == [b'{"v":1,"torn":"half']
    outside.whole()


def calls_on(outside, log):
    """The calls of one append that change the cellar, as (name, which of that name in the process).

    The first of each name and the last two: the others are of the same kind.
    """
    traced = f"trace={WRITES}"
    outside.run("note", "-", outside.word(), before=["strace", "-f", "-qq", "-y", "-e", traced, "-o", str(log)])
    counts, found = {}, []
    for row in log.read_text(errors="replace").splitlines():
        name = re.match(r"\d+\s+(\w+)\(", row)
        if name:
            counts[name[1]] = counts.get(name[1], 0) + 1
            if str(outside.cellar) in row and (name[1] != "openat" or "O_CREAT" in row):
                found.append((name[1], counts[name[1]]))
    firsts = {name: (name, which) for name, which in reversed(found)}
    return list(dict.fromkeys([*firsts.values(), *found[-2:]]))


@pytest.mark.skipif(shutil.which("strace") is None, reason="needs strace")
@pytest.mark.parametrize("fate", ["signal=KILL", "error=EIO", "error=ENOSPC"])
def test_every_system_call_of_a_save_may_fail(outside, fate, tmp_path):
    """Each in turn, with a torn end to mend besides: nothing acknowledged is lost, the rest goes on."""
    said = [outside.append()]
    (path,) = (outside.cellar / "events").glob("*.jsonl")
    torn = b'{"v":1,"torn":"half'

    def tear():
        with path.open("ab") as file:
            file.write(torn)

    tear()
    points = calls_on(outside, tmp_path / "log")
    assert {"write", "fsync", "fdatasync", "ftruncate"} <= {name for name, _ in points}
    for name, which in points:
        tear()
        inject = ["strace", "-f", "-qq", "-o", "/dev/null", "-e", f"inject={name}:{fate}:when={which}"]
        word = outside.append(before=inject)
        said += [word] if word else []
        said.append(outside.append())
        assert said[-1] is not None
    listed = outside.listed()
    assert set(said) <= set(listed) and len(listed) == len(set(listed))
    outside.whole()
    assert all(torn in p.read_bytes() for p in (outside.cellar / "aside").glob("*.torn"))
