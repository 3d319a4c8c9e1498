"""`import` of sheets as a user meets it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

MADE = Path(__file__).parent.parent / "feeds" / "sheets" / "made"


def readings(run) -> list[dict]:
    return [json.loads(line) for line in run("events", "--kind", "read").out.splitlines()]


def test_a_dry_run_says_line_by_line_what_was_understood(fir) -> None:
    """The columns under their names, then every row, and nothing saved."""
    before = readings(fir)
    ran = fir("import", str(MADE / "gb-slashes.csv"), "--dry-run")
    assert ran.status == 0 and readings(fir) == before
    assert "gravity from 'Gravity'" in ran.out and "fields parted by commas" in ran.out and "day-first" in ran.out
    assert ":2  fir  25 Apr 18:30  read 1.060, must 20" in ran.out and '"swirled"' in ran.out
    assert "heather-2, new here" in ran.err or "heather-2" in ran.err


def test_a_grown_sheet_adds_only_what_is_new_and_says_so(fir) -> None:
    """Also where two rows are alike."""
    assert fir("import", str(MADE / "grown-1.csv"), "--json").json["added"] == 2
    ran = fir("import", str(MADE / "grown-2.csv"))
    assert ran.status == 0 and "brought in 1 event (fir 1); 2 were here already" in ran.out
    assert fir("import", str(MADE / "grown-2.csv"), "--json").json["added"] == 0


def test_a_row_changed_since_is_refused_with_its_line(fir, home) -> None:
    """The whole file waits; the ledger's entry is named."""
    (home / "r.csv").write_text("Date,Batch,SG\n2026-04-25,fir,1.06\n")
    assert fir("import", str(home / "r.csv")).status == 0
    (home / "r.csv").write_text("Date,Batch,SG\n2026-04-25,fir,1.05\n2026-04-26,fir,1.04\n")
    before = readings(fir)
    ran = fir("import", str(home / "r.csv"))
    assert ran.status == 2 and "r.csv:2: the ledger has another entry" in ran.err and readings(fir) == before


def test_how_a_sheet_is_read_is_kept_by_name(fir, home) -> None:
    """Told once, then by its name; an unknown name says which there are."""
    (home / "r.csv").write_text("Wann;Krug;SG;Temp\n05/04/2026;Fir;1,060;68\n")
    how = ["--column", "at=Wann", "--column", "batch=Krug", "--dates", "day-first", "--unit", "must_c=F"]
    ran = fir("import", str(home / "r.csv"), *how, "--keep", "my-log")
    assert ran.status == 0 and "--as my-log" in ran.err
    (home / "r.csv").write_text("Wann;Krug;SG;Temp\n05/04/2026;Fir;1,060;68\n06/04/2026;Fir;1,050;67\n")
    assert fir("import", str(home / "r.csv"), "--as", "my-log", "--json").json["added"] == 1
    assert readings(fir)[-1]["must_c"] == 19.44
    assert "there is: my-log" in fir("import", str(home / "r.csv"), "--as", "other").err


def test_what_may_be_either_is_asked(fir) -> None:
    """One line with the way to answer it."""
    ran = fir("import", str(MADE / "us-may-be-either.csv"), "--batch", "fir")
    assert ran.status == 2 and "--dates day-first or --dates month-first" in ran.err and ran.err.count("\n") == 1


def test_a_workbook_brings_its_sheets_each_to_its_batch(fir) -> None:
    """By the sheet's name; a sheet that names no columns is told."""
    pytest.importorskip("openpyxl")
    ran = fir("import", str(MADE / "one-sheet-a-batch.xlsx"))
    assert ran.status == 0 and "(fir 1, heather-2 2)" in ran.out
    assert "sheet not read: shopping" in ran.err
    assert fir("import", str(MADE / "one-sheet-a-batch.xlsx"), "--sheet", "no").status == 2


def test_a_bad_row_of_a_workbook_is_named_with_its_sheet(fir) -> None:
    """Sheet, row, reason."""
    pytest.importorskip("odfdo")
    ran = fir("import", str(MADE / "one-sheet-a-batch.ods"))
    assert ran.status == 2 and "[pin]:3: gravity 9" in ran.err
