"""The sample cellar is what its story says, reads the same in ten years, and is never written to."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from sample_story import DEVICE, PINNED, SETTINGS, lines

from mustwatch.cellar.fold import fold
from mustwatch.ledger.codec import parse
from mustwatch.ledger.settings import settings_from
from mustwatch.rules.engine import judge_cellar

TOP = Path(__file__).parent.parent
SAMPLE = TOP / "sample_cellar"
EXPECTED = {
    "lime-blossom": {"danger: sealed-while-alive"},
    "bramble": {"danger: still-bottle-gassy"},
    "heather-2": {"today: stalled"},
    "orchard-cider": {"watch: long-on-gross-lees"},
    "buckwheat": {"today: air-over-ageing"},
    "bean-flower": {"today: closure-not-recorded"},
    "acacia-1": set(),
    "clover-3": set(),
    "chestnut-sack": set(),
    "raspberry-5": set(),
    "meadow-1": set(),
}


def sample_events():
    """(the cellar as folded, its events, the time it is looked at)."""
    settings = settings_from((SAMPLE / "cellar.toml").read_text(encoding="utf-8"))
    found = (SAMPLE / "events" / f"{DEVICE}.jsonl").read_bytes().splitlines()
    events = [parse(line) for line in found]
    return fold(events, settings, PINNED), events, PINNED


def _cellar():
    return sample_events()[0]


def test_the_files_are_what_the_story_tells() -> None:
    """Otherwise the demo and the tests that use it would drift apart."""
    assert (SAMPLE / "cellar.toml").read_text(encoding="utf-8") == SETTINGS
    assert (SAMPLE / "events" / f"{DEVICE}.jsonl").read_bytes().splitlines() == lines()


def test_each_batch_raises_what_its_story_is_about_and_nothing_at_today_or_worse_beside() -> None:
    """A demo cellar that cries wolf would teach people to look away."""
    cellar = _cellar()
    found: dict[str, set[str]] = {tag: set() for tag in cellar.batches}
    for one in judge_cellar(cellar, PINNED):
        if one.severity.word in ("danger", "today") or f"{one.severity.word}: {one.rule}" in EXPECTED[one.batch]:
            found[one.batch].add(f"{one.severity.word}: {one.rule}")
    assert found == EXPECTED


def test_opening_the_sample_cellar_never_writes_to_it(tmp_path: Path) -> None:
    """It may lie on a read-only medium, and must be the same for the next who looks."""
    before = {path: (path.stat().st_mtime_ns, path.read_bytes()) for path in SAMPLE.rglob("*") if path.is_file()}
    env = {
        **os.environ,
        "PYTHONPATH": str(TOP / "src"),
        "XDG_STATE_HOME": str(tmp_path),
        "XDG_CACHE_HOME": str(tmp_path),
    }
    for words in (["check"], ["show", "heather-2"], ["events"], ["verify"], ["log", "acacia-1", "1.040"], ["undo"]):
        ran = subprocess.run(
            [sys.executable, "-m", "mustwatch", "--cellar", str(SAMPLE), *words],
            capture_output=True, text=True, env=env, timeout=60,
        )  # fmt: skip
        assert "Traceback" not in ran.stderr
        if words[0] in ("log", "undo"):
            assert ran.returncode == 2 and "read-only" in ran.stderr
    after = {path: (path.stat().st_mtime_ns, path.read_bytes()) for path in SAMPLE.rglob("*") if path.is_file()}
    assert before == after


def test_the_sample_cellar_reads_the_same_whenever_it_is_opened(tmp_path: Path) -> None:
    """The pinned date stands in for the clock: two looks years apart print the same bytes."""
    prints = []
    for _ in range(2):
        ran = subprocess.run(
            [sys.executable, "-m", "mustwatch", "--cellar", str(SAMPLE), "check", "--json"],
            capture_output=True, env={**os.environ, "PYTHONPATH": str(TOP / "src"), "XDG_STATE_HOME": str(tmp_path)},
            timeout=60,
        )  # fmt: skip
        prints.append(ran.stdout)
    assert prints[0] == prints[1] and PINNED.isoformat().encode() in prints[0]
