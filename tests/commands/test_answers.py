"""What is said after a save is true, and a save is never taken back by trouble with the answer."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from mustwatch.commands.door import _sayable

FULL = Path("/dev/full")


def _program(*words: str, **more) -> subprocess.CompletedProcess:
    return subprocess.run(
        [sys.executable, "-m", "mustwatch", *words], text=True, stderr=subprocess.PIPE, env=dict(os.environ), **more
    )


@pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full to write to")
def test_a_saved_entry_stays_saved_when_the_answer_finds_no_room(fir) -> None:
    """An error status would have it typed in a second time."""
    with FULL.open("w") as full:
        ended = _program("log", "fir", "swirled", stdout=full)
        shown = _program("show", "fir", stdout=full)
    assert ended.returncode == 0 and ended.stderr.startswith("mustwatch: saved, but")
    assert fir("events", "--batch", "fir").out.count('"swirled"') == 1
    assert shown.returncode == 2 and shown.stderr.count("\n") == 1


def test_a_program_started_with_its_output_closed_still_saves(fir) -> None:
    """A job of the night may close all three."""
    closed = ["sh", "-c", f'exec "{sys.executable}" -m mustwatch log fir swirled >&- 2>&-']
    assert subprocess.run(closed, check=False).returncode == 0
    assert fir("events", "--batch", "fir").out.count('"swirled"') == 1


def test_a_finding_folded_under_another_is_not_said_to_be_gone(fir) -> None:
    """The pressure in the other bottles is what made the first one burst."""
    assert "over-the-bottle" in fir("bottle", "fir", "9 x 500 ml beer crown-cap", "--priming", "200 g").out + str(
        fir("check", "--json").json
    )
    burst = fir("take", "fir", "1", "--burst", "--json").json
    assert burst["cleared"] == []
    assert "no longer found" not in fir("note", "fir", "stood back").out


def test_hushing_a_folded_finding_names_the_one_it_stands_under(fir) -> None:
    """It has found something; saying otherwise would be untrue."""
    fir("bottle", "fir", "9 x 500 ml beer crown-cap", "--priming", "200 g")
    fir("take", "fir", "1", "--burst")
    folded = fir("check", "--json").json["findings"][0]["folded"][0]["rule"]
    ran = fir("hush", "fir", folded, "--until", "2090-01-01")
    assert ran.status == 2 and "stands under bottle-burst" in ran.err


def test_two_readings_of_one_hour_are_not_said_to_lie_no_days_apart(fir) -> None:
    """`down 0.0 points in 0.0 days` is no sentence."""
    fir("log", "fir", "1.060", "20C", "@2026-03-08", "10:00")
    said = fir("log", "fir", "1.060", "20C", "@2026-03-08", "10:05").out
    assert "no change" in said and "days" not in said
    assert "in 5 hours" in fir("log", "fir", "1.058", "20C", "@2026-03-08", "15:05").out


def test_a_note_of_danger_is_answered_with_the_finding(fir) -> None:
    """What is told in prose is judged like anything else; a long note is said back in short."""
    told = fir("note", "fir", "the jug leaks at the foot", "--json").json
    assert [one["rule"] for one in told["new_findings"]] == ["note-speaks-of-danger"]
    assert len(fir("note", "fir", "x" * 5000).out) < 300
    assert fir("events", "--batch", "fir").out.count("x" * 5000) == 1


@pytest.mark.parametrize("words", [["log", "--json", "fir", "swirled"], ["log", "fir", "swirled", "--json"]])
def test_log_answers_in_json_wherever_the_option_stands(fir, words: list[str]) -> None:
    """Every command that tells facts does."""
    assert fir(*words).json["batch"] == "fir"


def test_log_explains_itself_behind_the_tag_too(fir) -> None:
    """Help is wanted most in the middle of a line."""
    ran = fir("log", "fir", "--help")
    assert ran.status == 0 and "@yesterday 21:00" in ran.out


def test_refusals_speak_of_things_and_not_of_keys_of_the_format(fir) -> None:
    """`volume_l: input should be greater than 0` is no language of a cellar."""
    ran = fir("begin", "oak", "--volume", "0 l")
    assert ran.status == 2 and "volume in litres must be more than 0" in ran.err
    assert "score must be at most 10" in fir("taste", "fir", "--score", "11").err


def test_a_plain_terminal_is_given_plain_signs(home: Path) -> None:
    """30 C where the degree sign cannot be shown; what has no plain form is drawn as its code point."""
    assert _sayable("at 30 °C, 3 × 2 …", "ascii") == "at 30 C, 3 x 2 ..."
    assert _sayable("é", "ascii") == "<e9>" and _sayable("é °", "utf-8") == "é °"


@pytest.mark.parametrize("asked", [{"MUSTWATCH_ASCII": "1"}, {"LC_ALL": "C"}])
def test_commands_keep_to_ascii_where_it_is_asked_for(fir, monkeypatch: pytest.MonkeyPatch, asked: dict) -> None:
    """As the full screen does: a degree sign on a bare console is no degree sign."""
    for name, value in asked.items():
        monkeypatch.setenv(name, value)
    bench = ("bench", "correct", "reading=1.050", "sample=30C")
    lines = [
        ("check",),
        ("show", "fir"),
        ("outlook", "fir"),
        ("explain", "must-too-warm"),
        bench,
        ("log", "fir", "20C"),
    ]
    said = "".join(fir(*words).out for words in lines)
    assert "C" in said and said.isascii() and "<b0>" not in said
    assert "21 C" in fir("log", "fir", "must 21 °C").out


def test_a_diary_is_typed_in_without_an_alarm_at_every_line(run) -> None:
    """The next line of the evening settles most of it; the names are told, a danger is told in full."""
    run("init")
    run("begin", "elm", "--honey", "1 kg", "--volume", "4 l", "--at", "2026-03-01")
    said = run("pitch", "elm", "--class", "ale", "--at", "2026-03-01").out
    assert "today:" not in said and "no-sign-of-life" in said and "mustwatch check" in said
    assert "danger:" in run("close", "elm", "tight-cap", "--at", "2026-03-01").out
    assert run("check", "--json").json["findings"]


def test_sweetening_on_the_day_of_the_sorbate_does_not_unprove_the_rest_before_it(fir) -> None:
    """A diary knows the day alone: sulfite, sorbate and honey all stand at noon."""
    for words in (
        ["log", "fir", "0.998", "20C", "@2026-04-14"],
        ["log", "fir", "0.998", "20C", "@2026-05-14"],
        ["add", "fir", "potassium metabisulfite", "0.4 g", "--at", "2026-05-15"],
        ["add", "fir", "potassium sorbate", "0.9 g", "--at", "2026-05-15"],
        ["add", "fir", "honey", "150 g", "--at", "2026-05-15"],
    ):
        assert fir(*words).status == 0
    assert "sorbate-on-live" not in fir("check", "--json").out


def test_honey_fed_with_a_reading_explains_the_rise_after_it(fir) -> None:
    """Reading and feeding in one line of quick entry carry one time."""
    fir("log", "fir", "1.030", "20C", "+300g", "honey", "@2026-03-20", "18:00")
    fir("log", "fir", "1.050", "20C", "@2026-03-20", "19:00")
    assert "gravity-rose" not in fir("check", "--json").out


def test_a_year_that_is_a_slip_is_asked_about(fir) -> None:
    """1926 for 2026 would stand first in the story for good."""
    ran = fir("log", "fir", "swirled", "@1926-05-01")
    assert ran.status == 2 and "is the year right" in ran.err
