"""The ledger's commands as a user meets them: what they print, what they refuse, with which exit status."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

CSV = "batch,at,gravity,scale,sample_c,must_c,ph,note\nfir,2026-03-05 18:00,1.060,sg,21,20.5,3.6,fine\n"


@pytest.fixture
def events_file(home: Path, fir) -> Path:
    """The one file of events of the cellar with a batch."""
    (path,) = (home / "cellar" / "events").glob("*.jsonl")
    return path


def lines(run, *words) -> list[dict]:
    return [json.loads(line) for line in run("events", *words).out.splitlines()]


def test_init_makes_a_cellar_once(run, home) -> None:
    """The second time it refuses and changes nothing."""
    assert run("init").status == 0
    assert (home / "cellar" / ".gitattributes").read_text().count("merge=union") == 1
    again = run("init")
    assert again.status == 2 and "already" in again.err
    assert run("verify").status == 0


def test_events_can_be_asked_for_by_batch_kind_and_time(fir) -> None:
    """Each question narrows; none means all."""
    fir("note", "-", "for the cellar", "--at", "2026-03-02 10:00")
    fir("log", "fir", "1.070", "@2026-03-06")
    everything = lines(fir)
    assert len(everything) >= 4
    assert {e.get("batch") for e in lines(fir, "--batch", "fir")} == {"fir"}
    assert [e["note"] for e in lines(fir, "--batch", "-")] == ["for the cellar"]
    assert [e["kind"] for e in lines(fir, "--kind", "read", "--since", "2026-03-05")] == ["read"]


def test_the_schema_describes_every_line(fir) -> None:
    """Outsiders can check a ledger with common tools."""
    jsonschema = pytest.importorskip("jsonschema")
    schema = fir("events", "--schema").json
    for event in lines(fir):
        jsonschema.validate(event, schema)


def test_events_print_what_can_be_read_and_tell_the_rest(fir, events_file) -> None:
    """Damage goes to standard error, so that the lines stay JSON."""
    before = len(lines(fir))
    with events_file.open("ab") as file:
        file.write(b"junk \x1b[2J\n")
    ran = fir("events")
    assert ran.status == 0 and len(ran.out.splitlines()) == before
    assert "junk <1b>[2J" in ran.err and "\x1b" not in ran.err


def test_a_file_that_cannot_be_read_fails_the_listing(fir, events_file) -> None:
    """A script must not take a part for the whole."""
    events_file.rename(events_file.with_suffix(".gone"))
    events_file.symlink_to("/dev/zero")
    ran = fir("events")
    assert ran.status == 1 and "symbolic link" in ran.err


def test_faulty_settings_do_not_hide_the_ledger(fir, home) -> None:
    """The way out of a typing mistake must not need the settings."""
    (home / "cellar" / "cellar.toml").write_text("[cellar\n")
    ran = fir("events")
    assert ran.status == 0 and ran.out and "TOML" in ran.err
    verify = fir("verify")
    assert verify.status == 1 and "cellar.toml is not TOML" in verify.out and fir("repair").status == 0


def test_looking_back_lists_only_what_had_happened(fir) -> None:
    """`--now` is read-only and sees no later event."""
    fir("log", "fir", "1.070", "@2026-03-06")
    assert not [e for e in map(json.loads, fir("--now", "2026-03-05", "events").out.splitlines()) if e["kind"] == "read"
                and e["at"] > "2026-03-05T12:00:00Z"]  # fmt: skip
    for words in (["undo"], ["repair"], ["fix", "abcd", "note=x"], ["import", "x.csv"], ["init"]):
        assert fir("--now", "2026-03-05", *words).status == 2


def test_verify_names_each_damage_and_repair_mends_it(fir, events_file) -> None:
    """From damage to sound, with every byte kept and every step said."""
    data = events_file.read_bytes()
    events_file.write_bytes(data + b"junk\n" + b'{"v":1,"torn')
    ran = fir("verify")
    assert ran.status == 1 and ran.out.count("!!") == 2
    asked = fir("repair")
    assert asked.status == 1 and "not done" in asked.out and events_file.read_bytes().startswith(data + b"junk")
    told = [fir("repair", "--yes") for _ in range(3)]
    assert "copy line" in told[0].out and "it holds:" in told[1].out and "nothing to mend" in told[2].out
    assert fir("verify").status == 0 and events_file.read_bytes() == data


def test_verify_and_repair_speak_json(fir, events_file) -> None:
    """Stable keys for scripts."""
    with events_file.open("ab") as file:
        file.write(b"junk\n")
    told = fir("verify", "--json").json
    assert told["sound"] is False and told["troubles"][0]["kind"] == "damaged"
    assert [mend["done"] for mend in fir("repair", "--json").json["mends"]] == [None]
    assert all(mend["done"] for mend in fir("repair", "--json", "--yes").json["mends"])


def test_a_line_to_drop_must_be_named_rightly(fir, events_file) -> None:
    """One line that says what would be right."""
    for wrong in ("x", "x:y", f"{events_file.name}:0", f"{events_file.name}:99", "../cellar.toml:1"):
        ran = fir("repair", "--drop", wrong, "--yes")
        assert ran.status == 2 and ran.err.count("\n") == 1


def test_backup_says_where_and_how_much(fir, home) -> None:
    """And refuses what would be no backup."""
    ran = fir("backup", str(home / "copy"), "--json")
    assert ran.status == 0 and ran.json["events"] == len(lines(fir))
    assert fir("backup", str(home / "cellar" / "in")).status == 2
    assert fir("backup", str(home / "no" / "where")).status == 2


def test_undo_takes_back_the_last_entry_that_stands_and_says_which(fir) -> None:
    """Again and again, back to the beginning, and no further."""
    fir("note", "fir", "first")
    fir("note", "fir", "second")
    assert '"second"' in fir("undo").out
    ran = fir("undo", "--why", "wrong jug", "--json").json
    assert ran["kind"] == "noted"
    kinds = []
    while (ran := fir("undo", "--json")).status == 0:
        kinds.append(ran.json["kind"])
    assert kinds[-1] == "mixed" and ran.status == 2 and "nothing to take back" in ran.err
    assert lines(fir, "--kind", "withdrew")[1]["why"] == "wrong jug"


def test_undo_takes_back_a_correction_too(fir) -> None:
    """The reading then stands as it was first."""
    fir("log", "fir", "1.070", "@2026-03-06")
    last = lines(fir)[-1]["id"]
    assert fir("fix", last, "gravity.value=1.060").status == 0
    assert fir("undo", "--json").json["kind"] == "amended"
    shown = fir("show", "fir", "--json").json
    assert "1.06" not in json.dumps(shown["readings"][-1])


def test_fix_changes_one_value_and_keeps_the_first(fir) -> None:
    """By the whole id or a part of it."""
    fir("log", "fir", "1.070", "@2026-03-06")
    target = lines(fir)[-1]
    ran = fir("fix", target["id"][-8:], "gravity.value=1.060", "--why", "misread")
    assert ran.status == 0 and "now read 1.060" in ran.out
    act = lines(fir)[-1]
    assert (act["target"], act["set"], act["note"]) == (target["id"], {"gravity.value": 1.06}, "misread")
    assert target in lines(fir)


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["zzzzzz", "note=x"], "names no entry"),
        (["abc", "note=x"], "too short"),
        (["LAST"], "say what to change"),
        (["LAST", "gravity.value"], "write KEY=VALUE"),
        (["LAST", "gravity.value=wet"], "not changed"),
        (["LAST", "seq=4"], "cannot be changed"),
        (["LAST", "gravity.value=NaN"], "not changed"),
        (["LAST", "note=x", "--withdraw"], "say what to change"),
    ],
)
def test_a_fix_that_does_not_fit_is_refused(fir, words, why) -> None:
    """Nothing is saved, and the line says what is wrong."""
    fir("log", "fir", "1.070", "@2026-03-06")
    before = lines(fir)
    ran = fir("fix", *[before[-1]["id"] if word == "LAST" else word for word in words])
    assert ran.status == 2 and why in ran.err and lines(fir) == before


def test_fix_can_take_an_entry_back_once(fir) -> None:
    """The second time it says so."""
    fir("note", "fir", "x")
    last = lines(fir)[-1]["id"]
    assert fir("fix", last, "--withdraw").status == 0
    ran = fir("fix", last, "--withdraw")
    assert ran.status == 2 and "already" in ran.err


def test_import_takes_the_whole_file(fir, home) -> None:
    """A table once; the same table again adds nothing."""
    (home / "r.csv").write_text(CSV)
    assert fir("import", str(home / "r.csv"), "--json").json["added"] == 1
    again = fir("import", str(home / "r.csv"), "--json").json
    assert (again["added"], again["known"]) == (0, 1)
    assert lines(fir)[-1]["gravity"]["value"] == 1.06


def test_import_names_every_bad_row_and_saves_none(fir, home) -> None:
    """Line and reason for each; the good rows wait for the rest."""
    (home / "r.csv").write_text(CSV + "fir,soon,1.05\nfir,2026-03-06,wet\n,2026-03-06,1.05\nfir,2026-03-07,1.050\n")
    before = lines(fir)
    ran = fir("import", str(home / "r.csv"))
    assert ran.status == 2 and lines(fir) == before
    assert [f"r.csv:{number}:" in ran.err for number in (3, 4, 5)] == [True] * 3
    assert "3 bad rows of 5" in ran.err


def test_import_maps_columns_and_can_be_tried_first(fir, home) -> None:
    """Other names, other separators, a decimal comma."""
    (home / "r.csv").write_text("Date;Jug;SG;colour\n05.03.2026;fir;1,060;amber\n")
    words = ["import", str(home / "r.csv"), "--column", "at=Date", "--column", "batch=Jug", "--column", "gravity=SG",
             "--date-format", "%d.%m.%Y"]  # fmt: skip
    before = lines(fir)
    tried = fir(*words, "--dry-run")
    assert tried.status == 0 and "would bring in 1" in tried.out and "colour" in tried.err and lines(fir) == before
    assert fir(*words).status == 0 and lines(fir)[-1]["at"].startswith("2026-03-05")


def test_what_events_prints_can_be_imported_elsewhere(fir, home, run) -> None:
    """The whole story moves, ids and all."""
    fir("note", "fir", "\x1b[2J café")
    (home / "out.jsonl").write_text(fir("events").out)
    other = str(home / "other")
    assert run("--cellar", other, "init").status == 0
    assert run("--cellar", other, "import", str(home / "out.jsonl")).status == 0
    moved = [json.loads(line) for line in run("--cellar", other, "events").out.splitlines()]
    drop = ("seq", "crc")
    assert [{k: v for k, v in e.items() if k not in drop} for e in moved] == [
        {k: v for k, v in e.items() if k not in drop} for e in lines(fir)
    ]


@pytest.mark.parametrize(
    "content", [b"", b"\0\0\0", b"\xff\xfe", b"[1,2]\n", b'{"kind":"noted"}\n', b"nothing,known\n1,2\n"]
)
def test_a_file_that_is_neither_is_refused(fir, home, content) -> None:
    """One line, exit status 2, nothing saved."""
    (home / "x").write_bytes(content)
    before = lines(fir)
    ran = fir("import", str(home / "x"))
    assert ran.status == 2 and ran.err.strip() and lines(fir) == before
    assert fir("import", str(home / "missing")).status == 2


def test_what_cannot_be_saved_ends_with_three(fir, events_file) -> None:
    """One line on standard error, and the ledger as before."""
    events_file.rename(events_file.with_suffix(".gone"))
    events_file.mkdir()
    ran = fir("note", "-", "x")
    assert ran.status == 3 and "not saved" in ran.err and ran.err.count("\n") == 1
