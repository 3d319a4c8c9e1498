"""`ahead`: the keys of the contract, the parts of the list, and the calendar from the command line."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
import vobject
from test_sample_cellar import SAMPLE

KEYS = {"on", "batch", "what", "why", "from", "evidence"}


@pytest.fixture
def sample(run):
    """The sample cellar, looked at with one command."""
    return lambda *words: run("--cellar", str(SAMPLE), *words)


def test_json_has_the_keys_of_the_contract(sample) -> None:
    """Sources are the four that were agreed on, and evidence can be looked up."""
    found = sample("ahead", "--json").json
    assert set(found) == {"now", "due"} and all(set(one) >= KEYS for one in found["due"])
    assert {one["from"] for one in found["due"]} <= {"schedule", "outlook", "rule", "shelf"}
    ledger = sample("events").out
    assert all(any(id_ in ledger for id_ in one["evidence"]) for one in found["due"] if one["evidence"])


def test_the_list_has_today_this_week_and_later(sample) -> None:
    """In this order, worst first today, each line with its batch and what to do."""
    out = sample("ahead").out
    heads = [line for line in out.splitlines() if line and not line.startswith(" ")]
    assert heads == ["today", "this week", "later"] and all(len(line) <= 79 for line in out.splitlines())
    assert "lime-blossom: Protect your face" in out.partition("this week")[0]
    assert [line for line in sample("ahead", "--days", "0").out.splitlines() if not line.startswith(" ")] == ["today"]


def test_nothing_due_is_said(run) -> None:
    """No output at all would look like a failure."""
    run("init")
    assert run("ahead").out.startswith("nothing falls due before ")


@pytest.mark.parametrize("days", ["-1", "soon", "1.5", "99999"])
def test_days_that_are_none_are_refused(sample, days: str) -> None:
    """One line, status 2."""
    ran = sample("ahead", "--days", days)
    assert ran.status == 2 and len(ran.err.splitlines()) == 1


def test_the_calendar_holds_what_the_list_holds_and_a_second_writing_changes_nothing(sample, home: Path) -> None:
    """Read by another parser."""
    path = home / "ahead.ics"
    assert sample("ahead", "--ical", str(path)).status == 0
    before = path.read_bytes()
    due = sample("ahead", "--ical", str(path), "--json").json["due"]
    assert path.read_bytes() == before
    events = vobject.readOne(before.decode()).vevent_list
    assert sorted(event.summary.value for event in events) == sorted(f"{one['batch']}: {one['what']}" for one in due)


def test_a_calendar_that_cannot_be_written_is_refused_in_one_line(sample, home: Path) -> None:
    """Nothing is lost, and the file of somebody else stays."""
    (home / "mine.ics").write_text("dear diary", "utf-8")
    for path in (home / "mine.ics", home / "nowhere" / "a.ics", home):
        ran = sample("ahead", "--ical", str(path))
        assert ran.status == 2 and "not written" in ran.err and len(ran.err.splitlines()) == 1
    assert (home / "mine.ics").read_text("utf-8") == "dear diary"


def test_the_calendar_library_is_loaded_only_for_a_calendar(home: Path) -> None:
    """It comes with an extra, and who has not got it misses nothing else."""
    code = (
        "import sys\nsys.modules['icalendar'] = None\nfrom mustwatch.__main__ import main\n"
        f"assert main(['--cellar', {str(SAMPLE)!r}, 'ahead']) == 0\n"
        f"assert main(['--cellar', {str(SAMPLE)!r}, 'ahead', '--ical', 'x.ics']) == 2\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=home, timeout=60)
    assert ran.returncode == 0, ran.stderr
    assert "mustwatch[calendar]" in ran.stderr and "Traceback" not in ran.stderr
