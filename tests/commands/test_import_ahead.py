"""Rows dated in the future are asked about, as an entry typed with such a date is refused: a diary has no future."""

from __future__ import annotations

import json
from datetime import datetime, timedelta

import pytest


def rows(tmp_path, **spans: timedelta) -> str:
    """A file of notes, so far from now."""
    path = tmp_path / "in.jsonl"
    lines = [
        {"at": (datetime.now().astimezone() + ahead).isoformat(), "batch": "fir", "kind": "noted", "note": note}
        for note, ahead in spans.items()
    ]
    path.write_text("".join(json.dumps(line) + "\n" for line in lines), "utf-8")
    return str(path)


def test_without_a_terminal_they_are_refused_with_one_line_and_how_to_force_it(fir, tmp_path):
    """Nothing of the file is saved then, and the line says which row."""
    path = rows(tmp_path, past=-timedelta(days=1), soon=timedelta(days=3))
    ran = fir("import", path)
    assert ran.status == 2 and len(ran.err.splitlines()) == 1
    assert "1 row dated in the future, the first on line 2: " in ran.err and "--ahead" in ran.err
    assert "past" not in fir("show", "fir").out
    assert fir("import", path, "--ahead").status == 0
    told = fir("check", "--json").json
    assert "impossible-number" in [one["rule"] for one in told["findings"]]


@pytest.mark.parametrize(("ahead", "status"), [(30, 0), (90, 2)])
def test_a_minute_is_no_future(fir, tmp_path, ahead, status):
    """Clocks that are set differ by so much."""
    assert fir("import", rows(tmp_path, x=timedelta(seconds=ahead))).status == status


@pytest.mark.parametrize(("answer", "status"), [("y", 0), ("n", 2), ("", 2)])
def test_in_a_terminal_it_is_asked(fir, tmp_path, monkeypatch, answer, status):
    """No is the answer of the return key."""
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    monkeypatch.setattr("builtins.input", lambda prompt: answer)
    assert fir("import", rows(tmp_path, x=timedelta(days=3))).status == status
