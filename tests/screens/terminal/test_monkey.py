"""A short walk of the monkey of tests/bench/bench_monkey.py, which takes a hundred thousand steps when it is let."""

import importlib.util
import signal
import sys
from pathlib import Path

import pytest

BENCH = Path(__file__).parents[2] / "bench" / "bench_monkey.py"


@pytest.mark.timeout(600)
def test_random_keys_and_bytes_end_nothing_and_lose_no_event(tmp_path, monkeypatch):
    """While another device appends to the same cellar."""
    found = importlib.util.spec_from_file_location("bench_monkey", BENCH)
    monkey = importlib.util.module_from_spec(found)
    monkeypatch.setitem(sys.modules, "bench_monkey", monkey)
    found.loader.exec_module(monkey)
    monkeypatch.setattr(monkey, "APPEND_EVERY", 50)
    done = monkey.play(400, 3, tmp_path, tell=lambda *words, **more: None)
    assert done.alive and done.status == 128 + signal.SIGTERM, done.said
    assert done.appended == done.kept == 8 and done.sound, done.said
