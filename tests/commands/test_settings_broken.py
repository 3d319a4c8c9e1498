"""A broken `cellar.toml` hides no danger and stops no entry: the defaults count, loudly, and nobody writes to it."""

from __future__ import annotations

import pytest

CONFLICT = "<<<<<<< HEAD\n[cellar]\nname = 'here'\n=======\n[cellar]\nname = 'there'\n>>>>>>> theirs\n"
BROKEN = {
    "a conflict": CONFLICT,
    "nested": "[cellar]\nname = " + "[" * 100_000,
    "dotted": "cellar" + ".a" * 100_000 + " = 1",
    "a list for a name": "[cellar]\nname = ['x']",
    "a number for a yeast": "[library.yeasts]\nale = 3",
    "a number too long": "[places.hall]\nm3 = " + "9" * 5_000,
    "a rule there is not": "[thresholds.no-such-rule]\nx = 1",
    "empty but for a byte": "\x00",
}


@pytest.fixture(params=BROKEN.values(), ids=BROKEN.keys())
def broken(request, fir, home):
    """A live ferment under a tight cap, and settings that cannot be read."""
    fir("log", "fir", "1.088", "20C", "@2026-03-02", "09:00")
    fir("log", "fir", "1.078", "20C", "@2026-03-04", "08:00")
    fir("close", "fir", "tight-cap", "--at", "2026-03-04 09:00")
    path = home / "cellar" / "cellar.toml"
    path.write_text(request.param, "utf-8")
    return fir, path


def test_dangers_are_seen_all_the_same(broken):
    """Glass under pressure waits for no editor."""
    fir, _ = broken
    ran = fir("check", "--json")
    assert ran.status == 1 and "danger" in [one["severity"] for one in ran.json["findings"]]
    (trouble,) = ran.json["troubles"]
    assert trouble["what"] == "settings" and "cellar.toml" in trouble["says"] and trouble["grave"]
    assert "!! RECORD  cellar  settings" in fir("check").out
    assert len(trouble["says"]) < 300


def test_entries_are_taken_and_the_settings_are_left_alone(broken):
    """One loud line, the entry saved, the file as it was."""
    fir, path = broken
    before = path.read_bytes()
    for words in (["note", "fir", "vented"], ["log", "fir", "1.070", "20C"], ["show", "fir"]):
        ran = fir(*words)
        assert ran.status == 0 and "default settings count" in ran.err
        assert len([line for line in ran.err.splitlines() if "cellar.toml" in line]) == 1
    assert path.read_bytes() == before
    assert "vented" in fir("show", "fir").out


def test_missing_settings_are_no_missing_cellar(fir, home):
    """The entries are there: a sync that lost one small file must not hide them."""
    (home / "cellar" / "cellar.toml").unlink()
    ran = fir("check", "--json")
    assert ran.status == 1 and [one["what"] for one in ran.json["troubles"]] == ["settings"]
    assert fir("note", "fir", "x").status == 0
