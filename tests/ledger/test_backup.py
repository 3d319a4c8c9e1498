"""A backup is whole and verified, or it is not there."""

import hashlib
import os
import shutil
import subprocess

import pytest
from ledger.conftest import NOON

from mustwatch.ledger import backup
from mustwatch.ledger.store import Ledger, NotSaved, Unusable


def test_a_backup_holds_everything_and_checks_with_common_tools(place, tmp_path):
    """Settings, events, what was set aside; the sums are as sha256sum reads them."""
    place.note("one", "two")
    (place.cellar / "aside").mkdir()
    (place.cellar / "aside" / "x.torn").write_bytes(b"{torn")
    done = place.ledger.backup(tmp_path / "copy", NOON)
    assert (done.events, done.files, done.left_out) == (2, 4, ())
    for name in ("cellar.toml", f"events/{place.file.name}", "aside/x.torn", ".gitattributes"):
        assert (done.path / name).read_bytes() == (place.cellar / name).read_bytes()
    for row in (done.path / "SHA256SUMS").read_text().splitlines():
        told, name = row.split("  ")
        assert hashlib.sha256((done.path / name).read_bytes()).hexdigest() == told
    if shutil.which("sha256sum"):
        subprocess.run(["sha256sum", "-c", "--quiet", "SHA256SUMS"], cwd=done.path, check=True)


def test_a_backup_can_be_opened_and_added_to_like_any_cellar(place, tmp_path):
    """Restoring is copying it back; it then writes as a device of its own."""
    place.note("one")
    path = place.ledger.backup(tmp_path / "copy", NOON).path
    from mustwatch.ledger.drafts import draft

    ledger = Ledger(path, state=tmp_path / "machine-home" / "state")
    ledger.append([draft("noted", NOON, note="two")], NOON)
    assert [e.note for e in ledger.read().events] == ["one", "two"]
    assert place.notes() == ["one"]


def test_into_an_existing_folder_it_gets_a_dated_name(place, tmp_path):
    """One a day in the same place."""
    place.note("one")
    (tmp_path / "shelf").mkdir()
    assert place.ledger.backup(tmp_path / "shelf", NOON).path.name == "cellar-20260601T120000Z"
    with pytest.raises(Unusable, match="there already"):
        place.ledger.backup(tmp_path / "shelf", NOON)


def test_a_copy_that_reads_back_differently_is_thrown_away(place, tmp_path, monkeypatch):
    """A failing stick: better no backup than a false one."""
    place.note("one")
    real = backup.write_whole

    def lying(path, parts, *more):
        real(path, [b"".join(parts)[:-1] + b"X"] if path.suffix == ".jsonl" else parts, *more)

    monkeypatch.setattr(backup, "write_whole", lying)
    with pytest.raises(NotSaved, match="reads back differently"):
        place.ledger.backup(tmp_path / "copy", NOON)
    assert not [name for name in os.listdir(tmp_path) if "copy" in name]


def test_a_full_disk_leaves_nothing_behind(place, tmp_path, monkeypatch):
    """No half backup that looks like one."""
    place.note("one")

    def full(*_args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backup, "write_whole", full)
    with pytest.raises(NotSaved, match="No space left"):
        place.ledger.backup(tmp_path / "copy", NOON)
    assert not [name for name in os.listdir(tmp_path) if "copy" in name]


def test_a_backup_inside_the_cellar_is_refused(place):
    """It would be lost with it."""
    for where in (place.cellar, place.cellar / "events" / "copy", place.cellar / "copy"):
        with pytest.raises(Unusable, match="inside the cellar"):
            place.ledger.backup(where, NOON)


def test_what_is_no_file_is_told_not_followed(place, tmp_path):
    """A link to elsewhere is not a part of the cellar."""
    place.note("one")
    (place.cellar / "events" / "00000000000000aa.jsonl").symlink_to("/etc/hostname")
    done = place.ledger.backup(tmp_path / "copy", NOON)
    assert len(done.left_out) == 1 and "symbolic link" in done.left_out[0]
    assert not (done.path / "events" / "00000000000000aa.jsonl").exists()
