"""The ledger's speed as ratios within one run: `python tests/bench/bench_ledger.py [small]`.

append    one event in a running process, against open + write + fsync of the same line: at most 1.5
load      reading and folding 100,000 events, against validating the same lines with one pydantic adapter: at most 2
check     of a cellar with 200,000 events of a thermometer: at most 200 MiB of memory
note      there against `note` in an empty cellar: at most 1.5
list      `events` there, its time and memory

Each figure is the smallest of several turns taken in alternation; exit status 1 where a bar is missed.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

REPOSITORY = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(REPOSITORY / "src"), str(REPOSITORY / "tests")]

from ledger.many_lines import fill  # noqa: E402

from mustwatch.ledger import events as vocabulary  # noqa: E402
from mustwatch.ledger.clock import next_id  # noqa: E402
from mustwatch.ledger.codec import encode  # noqa: E402
from mustwatch.ledger.crc import sealed  # noqa: E402
from mustwatch.ledger.drafts import draft, stamped  # noqa: E402
from mustwatch.ledger.store import Ledger  # noqa: E402

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
BARS = {"append": 1.5, "load": 2.0, "check MiB": 200.0, "note": 1.5}


def fastest(turns: int, *works: Callable[[], object]) -> list[float]:
    """The smallest time of each work in seconds, taken in alternation."""
    best = [float("inf")] * len(works)
    for _ in range(turns):
        for number, work in enumerate(works):
            begun = time.perf_counter()
            work()
            best[number] = min(best[number], time.perf_counter() - begun)
    return best


def middle(turns: int, *works: Callable[[], object]) -> list[float]:
    """The middle time of each work in seconds, taken in alternation: for a disk, the smallest is luck."""
    times: list[list[float]] = [[] for _ in works]
    for _ in range(turns):
        for number, work in enumerate(works):
            begun = time.perf_counter()
            work()
            times[number].append(time.perf_counter() - begun)
    return [sorted(each)[len(each) // 2] for each in times]


def bench_append(root: Path) -> dict[str, float]:
    """One event into a cellar in use, against the bare three calls."""
    Ledger.make(root / "append", "")
    ledger = Ledger(root / "append", state=root / "state")
    event = draft("read", NOW, "fir", gravity={"value": 1.042, "sample_c": 21.0}, note="smells of pear")
    ledger.append([event], NOW)
    line = next(iter((root / "append" / "events").iterdir())).read_bytes()
    plain = root / "plain.jsonl"

    def bare() -> None:
        handle = os.open(plain, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o600)
        os.write(handle, line)
        os.fsync(handle)
        os.close(handle)

    bare()
    saved, written = middle(400, lambda: ledger.append([event], NOW), bare)
    print(f"append  {saved * 1e6:.0f} us, open + write + fsync {written * 1e6:.0f} us")
    return {"append": saved / written}


def mixed_lines(count: int) -> list[bytes]:
    """A cellar's lines as people write them: readings, notes, additions, looks."""
    lines, last = [], None
    for number in range(count):
        at, batch = NOW - timedelta(minutes=50 * (count - number)), f"batch-{number % 40}"
        value = round(1.09 - 0.0001 * (number % 900), 4)
        made = (
            lambda at, batch, value: draft("read", at, batch, gravity={"value": value, "sample_c": 20.5}, must_c=21.0),
            lambda at, batch, _: draft("noted", at, batch, note="smells of pear and honey, a little sharp"),
            lambda at, batch, value: draft("read", at, batch, gravity={"value": value}, ph=3.6),
            lambda at, batch, _: draft("seen", at, batch, airlock="bubbling", smell=["pear"]),
            lambda at, batch, _: draft("swirled", at, batch),
        )[number % 5](at, batch, value)
        last = next_id(last, at)
        lines.append(sealed(encode(stamped(made, last, number + 1))))
    return lines


def bench_load(root: Path, count: int) -> dict[str, float]:
    """In a fresh process, as a command would: read and fold, against one adapter over the same lines."""
    Ledger.make(root / "load", "")
    path = root / "load" / "events" / "7e57000000000002.jsonl"
    path.write_bytes(b"\n".join(mixed_lines(count)) + b"\n")
    turns = [[float(ran(["--part", part, str(root)]).stdout) for part in ("adapter", "fold")] for _ in range(3)]
    adapter, folded = (min(turn[which] for turn in turns) for which in (0, 1))
    print(f"load    {count} events: read and fold {folded:.2f} s, adapter alone {adapter:.2f} s")
    return {"load": folded / adapter}


def part_adapter(root: Path) -> float:
    """Seconds to validate the lines with one adapter."""
    from typing import Annotated, Union

    from pydantic import Field, TypeAdapter

    kinds = tuple(vocabulary.MODELS.values())
    adapter = TypeAdapter(Annotated[Union[kinds], Field(discriminator="kind")])  # noqa: UP007  built at run time
    begun = time.perf_counter()
    lines = (root / "load" / "events" / "7e57000000000002.jsonl").read_bytes().splitlines()
    events = [adapter.validate_json(line) for line in lines]
    assert events
    return time.perf_counter() - begun


def part_fold(root: Path) -> float:
    """Seconds to read and fold the cellar."""
    from mustwatch.cellar.fold import fold
    from mustwatch.ledger.settings import Settings

    begun = time.perf_counter()
    found = Ledger(root / "load", state=root / "state").read()
    cellar = fold(found.events, Settings(), NOW)
    assert len(cellar.batches) == 40 and not found.troubles
    return time.perf_counter() - begun


def ran(words: list[str], module: bool = False, **more: str) -> subprocess.CompletedProcess[str]:
    """A fresh process: this file, or the program."""
    start = ["-m", "mustwatch"] if module else [__file__]
    env = dict(os.environ, PYTHONPATH=os.pathsep.join(sys.path[:2]), **more)
    return subprocess.run([sys.executable, *start, *words], capture_output=True, text=True, env=env)


def program(root: Path, cellar: Path, *words: str) -> Callable[[], object]:
    """The program on a cellar, with its state under `root`."""
    places = {"XDG_STATE_HOME": str(root / "state")}

    def run() -> None:
        done = ran(["--cellar", str(cellar), *words], module=True, **places)
        assert done.returncode in (0, 1), done.stderr

    return run


def peak_mib(root: Path, cellar: Path, *words: str) -> float:
    """The largest memory of one run of the program, in MiB."""
    code = "import resource,subprocess,sys;subprocess.run(sys.argv[1:],stdout=subprocess.DEVNULL,check=False);"
    code += "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
    env = dict(os.environ, PYTHONPATH=os.pathsep.join(sys.path[:2]), XDG_STATE_HOME=str(root / "state"))
    command = [sys.executable, "-c", code, sys.executable, "-m", "mustwatch", "--cellar", str(cellar), *words]
    done = subprocess.run(command, capture_output=True, text=True, env=env, check=True)
    return int(done.stdout) / 1024


def bench_thermometer(root: Path, count: int) -> dict[str, float]:
    """A thermometer's ten years."""
    Ledger.make(root / "long", "")
    fill(root / "long", count)
    Ledger.make(root / "empty", "")
    check_mib, listing_mib = (peak_mib(root, root / "long", word) for word in ("check", "events"))
    check, listing = fastest(1, *(program(root, root / "long", word) for word in ("check", "events")))
    note, small = fastest(5, *(program(root, root / name, "note", "-", "x") for name in ("long", "empty")))
    print(f"check   {count} events: {check:.1f} s, {check_mib:.0f} MiB; list {listing:.1f} s, {listing_mib:.0f} MiB")
    print(f"note    {note:.2f} s there, {small:.2f} s in an empty cellar")
    return {"check MiB": check_mib, "note": note / small}


def main() -> int:
    """Runs everything; 1 where a bar is missed."""
    if "--part" in sys.argv:
        part, root = sys.argv[2], Path(sys.argv[3])
        print({"adapter": part_adapter, "fold": part_fold}[part](root))
        return 0
    small = "small" in sys.argv
    with tempfile.TemporaryDirectory(dir=os.environ.get("BENCH_DIR")) as name:
        root = Path(name)
        figures = bench_append(root)
        figures |= bench_load(root, 20_000 if small else 100_000)
        figures |= bench_thermometer(root, 50_000 if small else 200_000)
    missed = [name for name, figure in figures.items() if figure > BARS[name]]
    for name, figure in figures.items():
        print(f"{name:9} {figure:7.2f}  (at most {BARS[name]:g}){'  MISSED' if name in missed else ''}")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
