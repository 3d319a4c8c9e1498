"""`export`: what goes out comes in again as it was."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from test_sample_cellar import SAMPLE

NOTE = '=HYPERLINK("http://x"), he said; 5 ° colder'


@pytest.fixture
def noted(fir):
    """Fir with readings in two scales, with frost, with pH, and with a note that looks like a formula."""
    for words in (
        ("log", "fir", "1.080", "22C", "pH3.6", "@2026-03-03", "09:00"),
        ("log", "fir", "15.5Bx", "@2026-03-04", "09:00"),
        ("log", "fir", "1.050", "20C", "@2026-03-05", "09:00"),
        ("note", "fir", "swirled it", "--at", "2026-03-05 09:10"),
    ):
        assert fir(*words).status in (0, 1)
    read = fir("events", "--batch", "fir", "--kind", "read").out.splitlines()[-1].partition('"id":"')[2][:36]
    assert fir("fix", read, "note=" + NOTE, "air_c=-0.5").status == 0
    return fir


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_readings_go_out_as_they_were_read(noted) -> None:
    """Raw, in their own scale, with the columns that `import` names."""
    ran = noted("export", "readings")
    rows = _rows(ran.out)
    assert ran.out.startswith("batch,at,gravity,scale,sample_c,must_c,") and len(rows) == 4
    assert [(row["gravity"], row["scale"]) for row in rows] == [
        ("1.092", "sg"), ("1.08", "sg"), ("15.5", "brix"), ("1.05", "sg"),
    ]  # fmt: skip
    assert rows[1]["ph"] == "3.6" and rows[3]["air_c"] == "-0.5"
    assert rows[3]["note"] == "'" + NOTE


def test_the_readings_come_in_again_by_import(noted, home: Path) -> None:
    """Into another cellar the same, to the last sign; into this one nothing, for they are known."""
    path = home / "out.csv"
    assert noted("export", "readings", "--csv", str(path)).status == 0
    before = noted("export", "readings", "--json").json["readings"]
    again = noted("import", str(path))
    assert again.status == 0, again.err
    assert noted("export", "readings", "--json").json["readings"] == before
    other = ("--cellar", str(home / "other"))
    noted(*other, "init")
    ran = noted(*other, "import", str(path))
    assert ran.status == 0, ran.err
    there = noted(*other, "export", "readings", "--json").json["readings"]
    raw = ("batch", "gravity", "scale", "sample_c", "must_c", "air_c", "ph", "note")
    assert [{key: one[key] for key in raw} for one in there] == [{key: one[key] for key in raw} for one in before]
    assert there[3]["note"] == NOTE


def test_events_and_shelf_have_a_row_for_each(run) -> None:
    """As many as `events` and `shelf` tell."""
    sample = ("--cellar", str(SAMPLE))
    rows = _rows(run(*sample, "export", "events").out)
    lines = run(*sample, "events").out.splitlines()
    assert len(rows) == len(lines) and {row["id"] for row in rows} == {
        line.partition('"id":"')[2][:36] for line in lines
    }
    shelf = run(*sample, "shelf", "--json").json["lots"]
    assert [(row["batch"], row["left"]) for row in _rows(run(*sample, "export", "shelf").out)] == [
        (lot["batch"], str(lot["left"])) for lot in shelf
    ]
    whole = run(*sample, "export", "events", "--json").json["events"]
    assert len(whole) == len(lines) and {"id", "at", "kind"} <= set(whole[0])


def test_a_corrected_entry_goes_out_as_it_stands_and_one_taken_back_does_not(noted) -> None:
    """The sheet says what the cellar says."""
    noted("undo")
    assert "swirled it" in noted("export", "events").out
    noted("fix", noted("export", "events", "--json").json["events"][-1]["id"], "--withdraw")
    assert "swirled it" not in noted("export", "events").out


def test_a_file_of_somebody_else_is_not_written_over(noted, home: Path) -> None:
    """Our own is brought up to date, and what is not ours stays."""
    path = home / "mine.csv"
    path.write_text("dear,diary\n", "utf-8")
    ran = noted("export", "readings", "--csv", str(path))
    assert ran.status == 2 and len(ran.err.splitlines()) == 1 and path.read_text("utf-8") == "dear,diary\n"
    ours = home / "ours.csv"
    for _ in range(2):
        assert noted("export", "readings", "--csv", str(ours)).status == 0
    assert ours.read_bytes().count(b"\r\n") == 5 and noted("export", "shelf", "--csv", str(ours)).status == 2


def test_what_cannot_be_exported_is_named(fir) -> None:
    """One line, status 2."""
    ran = fir("export", "honey")
    assert ran.status == 2 and "readings" in ran.err
