"""What is wrong with the record is told by show, verify, check and import alike: nothing vanishes silently."""

from __future__ import annotations

import json
from datetime import UTC, datetime

import pytest

from mustwatch.said.dates import day


@pytest.fixture
def brought(fir, tmp_path):
    """Imports events into the cellar with the batch fir; gives what the import said."""

    def bring(*events: dict, words: tuple[str, ...] = ()):
        path = tmp_path / "events.jsonl"
        path.write_text("".join(json.dumps(event) + "\n" for event in events), "utf-8")
        return fir("import", str(path), *words)

    return bring


def on(number: int) -> str:
    """A day of March 2026 as it is told today."""
    return day(datetime(2026, 3, number, 12, tzinfo=UTC), datetime.now().astimezone())


def first_reading(fir) -> str:
    """The id of the first reading of fir."""
    return fir("show", "fir", "--json").json["readings"][0]["id"]


def lots(target: str) -> dict:
    """A correction that sets a gravity to a word."""
    return {"at": "2026-03-02T08:00:00Z", "batch": "fir", "kind": "amended", "target": target,
            "set": {"gravity.value": "lots"}}  # fmt: skip


def test_a_refused_correction_is_told_everywhere(fir, brought):
    """Who corrected a gravity believes it corrected; one sentence says it is not, wherever one looks."""
    said = f"A correction of the read of {on(1)} does not apply: value must be a number, got 'lots'."
    ran = brought(lots(first_reading(fir)))
    assert ran.status == 0 and said in ran.err
    verify, check, show = fir("verify"), fir("check"), fir("show", "fir")
    assert verify.status == 1 and f"!!  fir: {said}" in verify.out and "sound" not in verify.out
    assert check.status == 1 and "!! RECORD  fir  correction" in check.out
    assert said in " ".join(check.out.split()) and said in " ".join(show.out.split())
    asked = fir("check", "--json").json["troubles"]
    assert asked == fir("show", "fir", "--json").json["troubles"] == fir("verify", "--json").json["entries"]
    assert asked[0]["says"] == said and asked[0]["batch"] == "fir" and "--withdraw" in asked[0]["way_back"]
    later = fir("log", "fir", "1.080", "@2026-03-03")
    assert later.err == "mustwatch: ledger: 1 trouble; `mustwatch verify` names them\n"


def test_the_way_back_from_a_refused_correction_leads_back(fir, brought):
    """What is advised must work when typed."""
    brought(lots(first_reading(fir)))
    advice = fir("check", "--json").json["troubles"][0]["way_back"]
    command = advice.split("`")[1].split()
    assert command[:2] == ["mustwatch", "fix"] and fir(*command[1:]).status == 0
    assert fir("check", "--json").json["troubles"] == []
    assert fir("verify").status == 0


def test_an_import_warns_of_a_correction_that_will_not_apply_before_it_is_saved(fir, brought):
    """A dry run is there to tell."""
    ran = brought(lots("0000-nowhere"), words=("--dry-run", "--json"))
    assert ran.status == 0
    assert ran.json["in_vain"] == [
        {"line": 1, "why": f"A correction written on {on(2)} changes nothing: the entry it points at is not here."}
    ]


def test_a_correction_that_comes_with_its_entry_is_no_trouble(fir, brought):
    """Both lines of one file are seen."""
    entry = {"id": "there-1", "at": "2026-03-02T07:00:00Z", "batch": "fir", "kind": "read", "gravity": {"value": 1.5}}
    mend = {"id": "there-2", **lots("there-1"), "set": {"gravity.value": 1.08}}
    ran = brought(entry, mend)
    assert (ran.status, ran.err) == (0, "")
    assert fir("check", "--json").json["troubles"] == []


def test_an_entry_of_an_unknown_kind_is_told_and_is_no_damage(fir, brought):
    """It is kept for a newer program; here no rule reads it."""
    ran = brought({"at": "2026-03-02T08:00:00Z", "batch": "fir", "kind": "dreamt", "moon": "full"})
    said = "1 entry of the kind 'dreamt': kept, but no rule can read what they say."
    assert ran.status == 0 and said in ran.err
    verify = fir("verify")
    assert verify.status == 0 and f"--  fir: {said}" in verify.out
    assert [one["says"] for one in fir("show", "fir", "--json").json["troubles"]] == [said]
    assert "-- RECORD  fir  unknown-kind" in fir("check").out


@pytest.mark.parametrize(("at", "told"), [("2026-02-28 23:00", True), ("2026-03-01 00:30", False)])
def test_an_entry_dated_before_the_day_it_was_mixed_is_told(fir, at, told):
    """One of the two dates is wrong. On the day itself it is no wonder: a diary often knows the day alone."""
    assert fir("log", "fir", "1.095", "20C", "@" + at).status == 0
    troubles = fir("check", "--json").json["troubles"]
    assert ["before-mixing"] * told == [one["what"] for one in troubles]
    if told:
        assert f"1 entry dated before it was mixed on {on(1)}, the first the read of" in fir("verify").out
        assert "at=..." in troubles[0]["way_back"] and fir("verify").status == 0


def test_a_note_or_a_cleaning_before_the_mixing_is_no_trouble(fir):
    """An idea comes before the must."""
    fir("note", "fir", "an idea", "--at", "2026-02-20 12:00")
    assert fir("check", "--json").json["troubles"] == []


def test_damage_in_a_file_is_among_the_troubles_of_a_check(fir, home):
    """A line that cannot be read may have held anything."""
    (path,) = (home / "cellar" / "events").glob("*.jsonl")
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join([lines[0], b"{ half a line\n", *lines[1:]]))
    ran = fir("check", "--json")
    (trouble,) = ran.json["troubles"]
    assert ran.status == 1 and trouble["grave"] and f"{path.name}:2 " in trouble["says"] and trouble["way_back"]


def test_what_was_undone_since_raises_no_alarm_in_a_look_back(fir):
    """An undone dose of 2 g of sulfite never was in the must."""
    fir("add", "fir", "sulfite", "2 g", "--at", "2026-03-02 09:00")
    then = ("--now", "2026-03-02T12:00:00+00:00", "check", "--json")
    assert "sulfite-overdosed" in [one["rule"] for one in fir(*then).json["findings"]]
    assert fir("undo").status == 0
    assert fir(*then).json["findings"] == []
    assert "sulfite" not in fir("--now", "2026-03-02T12:00:00+00:00", "show", "fir").out


def flipped(home, mark: bytes, part: bytes) -> None:
    """Flips a bit of a part of the line that holds a mark."""
    (path,) = (home / "cellar" / "events").glob("*.jsonl")
    lines = path.read_bytes().splitlines(keepends=True)
    number = next(at for at, line in enumerate(lines) if mark in line)
    at = lines[number].index(part)
    lines[number] = lines[number][:at] + bytes([lines[number][at] ^ 1]) + lines[number][at + 1 :]
    path.write_bytes(b"".join(lines))


@pytest.mark.parametrize("part", [b"tight-cap", b"closed", b'"crc"', b'"at"', b'"seq"', b'"closure"'])
def test_one_flipped_bit_in_the_line_of_a_closure_leaves_the_closure_unknown(fir, home, part):
    """It fell back to the airlock before, and the danger was off."""
    fir("log", "fir", "1.088", "20C", "@2026-03-02", "09:00")
    fir("close", "fir", "tight-cap", "--at", "2026-03-04 09:00")
    flipped(home, b"tight-cap", part)
    now = ("--now", "2026-03-04T12:00:00+00:00")
    ran = fir(*now, "check", "--json")
    assert ran.status == 1 and "closure-not-recorded" in [one["rule"] for one in ran.json["findings"]]
    (trouble,) = ran.json["troubles"]
    assert trouble["batch"] == "fir" and "what it told is not known" in trouble["says"]
    show = " ".join(fir(*now, "show", "fir").out.split())
    assert "what it told is not known" in show and "NOT KNOWN" in show
    assert fir(*now, "check", "--at-least", "danger").status == 1
    fir("close", "fir", "airlock")
    assert fir("show", "fir", "--json").json["closure"]["kind"] == "airlock"


def test_a_damaged_line_whose_batch_cannot_be_read_is_told_of_the_cellar(fir, home):
    """It may have been of any batch."""
    flipped(home, b'"pitched"', b'"batch"')
    ran = fir("check", "--json")
    (trouble,) = ran.json["troubles"]
    assert ran.status == 1 and trouble["batch"] is None and trouble["grave"]
    assert "!! RECORD  cellar  checksum" in fir("check").out
