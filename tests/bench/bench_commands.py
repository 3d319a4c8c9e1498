"""Processor time of the commands people type many times a day, against one import of pydantic, as whole processes.

    python -m tests.bench.bench_commands [RUNS]

Each command is run by turns with `python -c "from pydantic import BaseModel"` on one core, on a fresh copy of the
sample cellar, and its smallest user and system time counts. The bar: at most 1.8 times that import. Bytecode is
written first, as it is where the program is installed.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

SAMPLE = Path(__file__).parents[2] / "sample_cellar"
MOST = 1.8
BASE = [sys.executable, "-c", "from pydantic import BaseModel"]
COMMANDS = (
    ("log", "acacia-1", "1.040", "21C"),
    ("check",),
    ("show", "acacia-1"),
    ("list",),
    ("outlook", "acacia-1"),
    ("explain", "stalled"),
    ("--help",),
)
BARRED = {"log", "check", "show", "list"}


def on_one_core() -> None:
    """Keeps this process and its children on one of the cores it may use, where the system lets it."""
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {max(os.sched_getaffinity(0))})


def surroundings(home: Path) -> dict[str, str]:
    """The environment of a user with a home of this name: bytecode is kept, nothing of ours is set."""
    source = str(Path(__file__).parents[2] / "src")
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "MUSTWATCH"))}
    return kept | {"PYTHONPATH": source, "XDG_STATE_HOME": f"{home}/state", "XDG_CACHE_HOME": f"{home}/cache"}


def cellar_in(folder: Path) -> Path:
    """A fresh copy of the sample cellar that can be written to."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(SAMPLE, folder)
    settings = folder / "cellar.toml"
    settings.write_text(re.sub(r"(?m)^pinned.*\n", "", settings.read_text(encoding="utf-8")), encoding="utf-8")
    return folder


def cpu_s(command: list[str], environ: dict[str, str]) -> float:
    """Seconds of processor time, user and system, of one run of a command."""
    child = subprocess.Popen(command, env=environ, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, used = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode not in (0, 1):
        raise RuntimeError(f"{' '.join(command)} ended with status {child.returncode}")
    return used.ru_utime + used.ru_stime


def measured(runs: int) -> tuple[float, dict[tuple[str, ...], float]]:
    """The smallest seconds of the import, and of each command."""
    with tempfile.TemporaryDirectory() as place:
        environ, cellar = surroundings(Path(place)), Path(place) / "cellar"
        base, best = float("inf"), dict.fromkeys(COMMANDS, float("inf"))
        for run in range(runs + 1):
            for words in COMMANDS:
                ours = [sys.executable, "-m", "mustwatch", "--cellar", str(cellar_in(cellar)), *words]
                took = cpu_s(BASE, environ), cpu_s(ours, environ)
                if run:  # the first round writes the bytecode
                    base, best[words] = min(base, took[0]), min(best[words], took[1])
        return base, best


def main(runs: int = 9) -> int:
    """Prints the table; 1 where a bar is missed."""
    on_one_core()
    base, best = measured(runs)
    print(f"{'one import of pydantic':<28}{base * 1000:7.1f} ms")
    for words, took in best.items():
        bar = f"  (at most {MOST})" if words[0] in BARRED else ""
        print(f"{' '.join(words):<28}{took * 1000:7.1f} ms  {took / base:5.2f}{bar}")
    return int(any(took > MOST * base for words, took in best.items() if words[0] in BARRED))


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
