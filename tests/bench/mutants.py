"""How many small mistakes in the reckoning the tests would notice: a random draw of mutants, each tried by its tests.

    pip install cosmic-ray           # a maintained mutation tool: it makes the mutants; not needed for anything else
    python -m tests.bench.mutants draw 600 --seed 1 --session /tmp/mutants.sqlite
    python -m tests.bench.mutants try --session /tmp/mutants.sqlite --workers 2
    python -m tests.bench.mutants tell --session /tmp/mutants.sqlite

The draw is by place in the source, each place once and one change there at random: the tool makes a dozen mutants of
one multiplication, all easily noticed, and a draw over all of them would flatter the tests. Each mutant is written into
a copy of the tree and tried there by the tests nearest to it, in a process that has only the other libraries loaded.
Tests of the screens and commands are not asked, which makes the share told the lower bound.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PARTS = ("src/mustwatch/trade", "src/mustwatch/judgement", "src/mustwatch/rules")
RULES = "src/mustwatch/rules/catalogue"
EVERY_RULE = "tests/rules/test_every_rule.py"
JUDGED, TOLD = "tests/judgement/test_judged.py", "tests/rules/test_told.py"
QUIET = ("-q", "-x", "-p", "no:cacheprovider", "-p", "no:xdist", "--timeout=60", "--no-header", "--tb=no")
LONGEST_S = 300
# Types are not looked at when running, and a sum of types is no sum of numbers.
LEFT_OUT = ("BitOr_", "RemoveDecorator")
CONFIG = """[cosmic-ray]
module-path = [{parts}]
timeout = 240.0
excluded-modules = []
test-command = "false"
[cosmic-ray.distributor]
name = "local"
"""


def main() -> int:
    """Draws, tries or tells."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("act", choices=("draw", "try", "tell"))
    parser.add_argument("count", nargs="?", type=int, default=600)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--parts", nargs="+", default=PARTS, help="folders or files to draw from")
    parser.add_argument("--session", type=Path, default=Path("/tmp/mutants.sqlite"))
    args = parser.parse_args()
    if args.act == "draw":
        config = args.session.with_suffix(".toml")
        config.write_text(CONFIG.format(parts=", ".join(f'"{part}"' for part in args.parts)), encoding="utf-8")
        subprocess.run(["cosmic-ray", "init", "--force", str(config), str(args.session)], cwd=ROOT, check=True)
        return _drawn(args.session, args.count, args.seed)
    return _tried(args.session, args.workers) if args.act == "try" else _told(args.session)


def _drawn(session: Path, count: int, seed: int) -> int:
    """Leaves `count` mutants of the session: places drawn at random, one change in each."""
    with sqlite3.connect(session) as base:
        query = "select job_id, module_path, start_pos_row, start_pos_col, operator_name from mutation_specs"
        places: defaultdict[tuple[str, int, int], list[str]] = defaultdict(list)
        for job, module, row, column, operator in base.execute(query + " order by job_id"):
            if not any(part in operator for part in LEFT_OUT):
                places[module, row, column].append(job)
        chance = random.Random(seed)
        chosen = chance.sample(sorted(places), min(count, len(places)))
        jobs = {chance.choice(sorted(places[place])) for place in chosen}
        for table in ("mutation_specs", "work_results", "work_items"):
            every = [job for (job,) in base.execute(f"select job_id from {table}")]
            base.executemany(f"delete from {table} where job_id = ?", [(job,) for job in every if job not in jobs])
    print(f"{len(jobs)} mutants drawn of {len(places)} places, seed {seed}")
    return 0


def _tried(session: Path, workers: int) -> int:
    """Tries every mutant of the session that was not tried yet, some at a time."""
    import hypothesis  # noqa: F401  what the tests load anyway: forked once it is there
    import numpy  # noqa: F401
    import pydantic  # noqa: F401
    import pytest  # noqa: F401

    with sqlite3.connect(session) as base:
        query = (
            "select job_id, module_path, operator_name, occurrence, operator_args from mutation_specs"
            " where job_id not in (select job_id from work_results) order by job_id"
        )
        jobs = list(base.execute(query))
    copies = [_copied() for _ in range(workers)]
    running: dict[int, tuple[tuple, Path, str, float]] = {}
    while jobs or running:
        while jobs and copies:
            job, copy = jobs.pop(), copies.pop()
            diff = _mutate(copy, *job[1:4])
            running[_forked(copy, Path(job[1]))] = (job, copy, diff, time.monotonic())
        ended, status = os.waitpid(-1, os.WNOHANG)
        if ended:
            job, copy, diff, _ = running.pop(ended)
            shutil.copyfile(ROOT / job[1], copy / job[1])
            copies.append(copy)
            outcome = "SURVIVED" if status == 0 else "KILLED"
            with sqlite3.connect(session) as base:
                base.execute("insert into work_results values ('NORMAL', '', ?, ?, ?)", (outcome, diff, job[0]))
            continue
        for process, (*_, began) in running.items():
            if time.monotonic() - began > LONGEST_S:
                os.kill(process, signal.SIGKILL)
        time.sleep(0.05)
    for copy in copies:
        shutil.rmtree(copy)
    return 0


def _copied() -> Path:
    copy = Path(tempfile.mkdtemp(prefix="mutants-"))
    for name in ("src", "tests", "sample_cellar", "pyproject.toml", "DEVELOPERS.md", "README.md"):
        whole = ROOT / name
        if whole.is_dir():
            shutil.copytree(whole, copy / name, ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
        else:
            shutil.copyfile(whole, copy / name)
    return copy


def _mutate(copy: Path, module: str, operator: str, occurrence: int) -> str:
    """Writes the mutant into the copy; answers with the lines that differ."""
    import difflib

    from cosmic_ray.mutating import mutate_code
    from cosmic_ray.plugins import get_operator

    whole = (ROOT / module).read_text("utf-8")
    mutant = mutate_code(whole.encode(), get_operator(operator)(), occurrence)
    text = (mutant.decode() if isinstance(mutant, bytes) else mutant) or whole
    (copy / module).write_text(text, encoding="utf-8")
    differ = difflib.unified_diff(whole.splitlines(), text.splitlines(), lineterm="", n=0)
    return "\n".join(line for line in differ if line[:1] in "+-" and line[:3] not in ("+++", "---"))


def _forked(copy: Path, changed: Path) -> int:
    """A process that ends with 0 only when all tests of the changed file hold."""
    process = os.fork()
    if process:
        return process
    status = 1
    try:
        import pytest

        os.chdir(copy)
        os.environ["PYTHONPATH"], sys.dont_write_bytecode = str(copy / "src"), True
        sys.path[:] = [str(copy / "src"), *(path for path in sys.path if not path.endswith("/src"))]
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
        # In one run pytest cannot begin anew with the same modules, but they hold the same mutant: so it may.
        status = next((s for s in (pytest.main([*QUIET, *t]) for t in _nearest_first(changed)) if s not in (0, 5)), 0)
    finally:
        os._exit(int(status))


def _nearest_first(changed: Path) -> list[tuple[str, ...]]:
    below = changed.relative_to("src/mustwatch")
    own = Path("tests", *below.parts[:-1], f"test_{below.name}")
    stages: list[tuple[str, ...]] = [(str(changed), str(own))] if own.exists() else [(str(changed),)]
    if str(changed).startswith(RULES):
        name = changed.stem.replace("_", "-")
        return [(TOLD, EVERY_RULE, "-k", f"{name}/"), (str(changed), "tests/rules/test_engine.py")]
    if below.parts[0] == "trade":
        return [*stages, (JUDGED,), ("tests/trade", "tests/calculators")]
    if below.parts[0] == "rules":
        return [*stages, ("tests/rules/test_engine.py",), (TOLD,)]
    return [(JUDGED,), *stages, ("tests/judgement",)]


def _told(session: Path) -> int:
    """Prints the share of mutants that a test noticed, and each that none did."""
    with sqlite3.connect(session) as base:
        query = (
            "select module_path, start_pos_row, operator_name, test_outcome, diff from mutation_specs"
            " join work_results using (job_id) order by module_path, start_pos_row"
        )
        rows = list(base.execute(query))
    survived = [row for row in rows if row[3] == "SURVIVED"]
    for module, line, operator, _, diff in survived:
        print(f"{module}:{line} {operator.removeprefix('core/')}\n    " + (diff or "").replace("\n", "\n    "))
    print(f"{len(rows) - len(survived)} of {len(rows)} noticed: {100 * (1 - len(survived) / max(1, len(rows))):.1f} %")
    for part in sorted({"/".join(row[0].split("/")[:3]) for row in rows}):
        own = [row for row in rows if row[0].startswith(part)]
        print(f"  {part}: {len(own) - sum(row[3] == 'SURVIVED' for row in own)} of {len(own)}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
