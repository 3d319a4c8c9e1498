"""At a terminal a note that can mean danger is asked about, by one key; everywhere else it is saved as it is."""

from __future__ import annotations

import pytest

from mustwatch.commands import asking, door


@pytest.fixture
def keys(monkeypatch):
    """A terminal at which these keys are pressed, one after the other."""

    def press(*pressed):
        left = list(pressed)
        monkeypatch.setattr(asking, "_at_terminal", lambda: True)
        monkeypatch.setattr(door, "_one_key", lambda question: left.pop(0))
        return left

    return press


def _events(run):
    return [line for line in run("events").out.splitlines() if '"noted"' in line or '"seen"' in line]


def test_yes_makes_the_look_and_its_danger_is_told(fir, run, keys):
    """One key, and what is to be done stands there."""
    keys("y")
    told = fir("note", "fir", "weeping at the seam")
    assert "The note speaks of a leak or a crack" in told.out and "leaking-glass" in told.out
    assert "; looked: leaking" in told.out
    assert len(_events(run)) == 2


def test_no_keeps_the_note_and_says_nothing_more(fir, run, keys):
    """The answer stands in the line of the note."""
    keys("n")
    told = fir("note", "fir", "weeping at the seam")
    (line,) = _events(run)
    assert '"harmless":["leak"]' in line and "weeping at the seam" in line
    assert "note-speaks-of-danger" not in told.out + run("check").out


@pytest.mark.parametrize("key", ["", "q", "\x1b"])
def test_any_other_key_leaves_it_open_and_the_note_saved(fir, run, keys, key):
    """It is then for today."""
    keys(key)
    assert "left open" in fir("log", "fir", "lid", "bulging").out
    assert len(_events(run)) == 1 and "note-speaks-of-danger" in run("check").out


def test_breaking_off_saves_the_note_all_the_same(fir, run, monkeypatch):
    """Ctrl+C at a question is no answer, and no reason to lose a word."""

    def broken_off(question):
        raise KeyboardInterrupt

    monkeypatch.setattr(asking, "_at_terminal", lambda: True)
    monkeypatch.setattr(door, "_one_key", broken_off)
    assert fir("note", "fir", "jug leaks").status == 0
    assert len(_events(run)) == 1


def test_without_a_terminal_or_with_json_nothing_is_asked(fir, run, keys):
    """A script gets no question; the finding asks."""
    told = fir("note", "fir", "jug leaks")
    assert told.status == 0 and "[y/n" not in told.out
    left = keys("y")
    assert fir("note", "fir", "jug leaks a lot", "--json").json["saved"] and left == ["y"]
