"""Appending: nothing acknowledged is lost, nothing refused is left behind, nobody else's file is touched."""

import errno
import os
import threading

import pytest
from ledger.conftest import NOON

from mustwatch.ledger import files, writer
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.lock import Lock
from mustwatch.ledger.store import NotKnownSaved, NotSaved


def failing(number: int):
    """A system call that always fails."""

    def call(*_args):
        raise OSError(number, os.strerror(number))

    return call


def test_a_torn_end_is_set_aside_and_then_cut(place):
    """The bytes are kept; the next event begins a line of its own."""
    place.note("one")
    with place.file.open("ab") as file:
        file.write(b'{"v":1,"torn":"half')
    assert place.kinds() == ["torn"]
    place.ledger = place.again()
    place.note("two")
    assert place.notes() == ["one", "two"]
    assert place.aside() == b'{"v":1,"torn":"half'
    assert place.kinds() == ["aside"]
    assert place.file.read_bytes().endswith(b"}\n")


def test_every_cut_of_the_last_two_lines_heals(another):
    """Whatever byte a power cut stops at, whole events stay and the rest is kept aside."""
    whole = another("whole")
    whole.note("one", "two", "three")
    data = whole.file.read_bytes()
    lines = data.splitlines(keepends=True)
    for cut in range(len(lines[0]), len(data)):
        place = another("cut")
        target = place.cellar / "events" / whole.file.name
        target.write_bytes(data[:cut])
        sound = [text for text, line in zip(("one", "two", "three"), lines, strict=True) if line[:-1] in data[:cut]]
        assert place.notes() == sound
        loose = data[:cut].rsplit(b"\n", 1)[1]
        torn = bool(loose) and cut + 1 not in (len(lines[0]) + len(lines[1]), len(data))
        assert place.kinds() == (["torn"] if torn else [])
        target.unlink()


def test_a_copy_of_the_cellar_is_mended_but_not_written_as_the_same_device(another, tmp_path):
    """A copied folder gets a file of its own, so that the two never hold different lines under one name."""
    import shutil

    first = another("first")
    first.note("one")
    shutil.copytree(first.cellar, tmp_path / "second")
    with (tmp_path / "second" / "events" / first.file.name).open("ab") as file:
        file.write(b'{"torn')
    second = another("second")
    second.note("two")
    assert len(second.files()) == 2 and second.notes() == ["one", "two"]
    assert second.aside() == b'{"torn'
    assert all(path.read_bytes().endswith(b"\n") for path in second.files())


def test_a_last_line_without_its_end_is_an_event_and_gets_its_end(place):
    """An editor that drops the last line end costs nothing."""
    place.note("one")
    place.file.write_bytes(place.file.read_bytes()[:-1])
    assert place.notes() == ["one"] and place.kinds() == []
    place.ledger = place.again()
    place.note("two")
    assert place.notes() == ["one", "two"] and place.aside() == b""


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO, errno.EDQUOT])
def test_a_failed_write_changes_nothing(place, monkeypatch, number):
    """Full or failing disk: the old size, one line, and the next save works."""
    place.note("one")
    before = place.snapshot()
    with monkeypatch.context() as patch:
        patch.setattr(writer, "write_all", failing(number))
        with pytest.raises(NotSaved, match="nothing was changed") as refused:
            place.note("two")
    assert not isinstance(refused.value, NotKnownSaved) and "\n" not in str(refused.value)
    assert {path: told[2] for path, told in place.snapshot().items()} == {p: t[2] for p, t in before.items()}
    place.note("three")
    assert place.notes() == ["one", "three"] and place.kinds() == []


@pytest.mark.parametrize("taken", [1, 40])
def test_a_short_write_is_taken_back(place, monkeypatch, taken):
    """The disk fills up in the middle of a line."""
    place.note("one")
    real, calls = os.write, []

    def short(handle, data):
        calls.append(len(data))
        if len(calls) == 1:
            return real(handle, bytes(data)[:taken])
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(files.os, "write", short)
        with pytest.raises(NotSaved):
            place.note("two")
    assert place.notes() == ["one"] and place.kinds() == []


def test_a_slow_disk_that_takes_a_line_in_parts_gets_all_of_it(place, monkeypatch):
    """A short write is no failure as long as the rest follows."""
    real = os.write
    monkeypatch.setattr(files.os, "write", lambda handle, data: real(handle, bytes(data)[:7]))
    place.note("one")
    assert place.notes() == ["one"] and place.kinds() == []


def test_a_disk_that_does_not_confirm_is_not_called_saved(place, monkeypatch):
    """No second try behind the user's back: after a failed fsync nobody knows."""
    place.note("one")
    calls = []

    def fsync(handle):
        calls.append(handle)
        raise OSError(errno.EIO, "Input/output error")

    with monkeypatch.context() as patch:
        patch.setattr(writer.os, "fsync", fsync)
        patch.setattr(writer.os, "fdatasync", fsync, raising=False)
        with pytest.raises(NotKnownSaved, match="not known to be saved"):
            place.note("two")
    assert len(calls) == 1
    place.note("three")
    assert "three" in place.notes() and place.kinds() == []


def test_the_file_and_a_new_folder_entry_are_synced_before_the_word(place, monkeypatch):
    """The first append makes a name in a folder: that needs its own fsync."""
    synced = []
    for name in ("fsync", "fdatasync"):
        real = getattr(os, name)
        noted = lambda handle, real=real: (synced.append(os.readlink(f"/proc/self/fd/{handle}")), real(handle))  # noqa: E731
        monkeypatch.setattr(writer.os, name, noted)
    place.note("one")
    assert [os.path.basename(path) for path in synced][-2:] == [place.file.name, "events"]
    synced.clear()
    place.note("two")
    assert [os.path.basename(path) for path in synced] == [place.file.name]


@pytest.mark.parametrize("what", ["link", "dangling", "pipe", "folder"])
def test_nothing_special_is_written_through(place, tmp_path, what):
    """A link, a pipe or a folder in place of the file: refused with a reason, and nothing outside changes."""
    place.note("one")
    path, outside = place.file, tmp_path / "outside.txt"
    path.rename(path.with_suffix(".moved"))
    if what == "link":
        outside.write_text("mine\n")
        path.symlink_to(outside)
    elif what == "dangling":
        path.symlink_to(outside)
    elif what == "pipe":
        os.mkfifo(path)
    else:
        path.mkdir()
    with pytest.raises(NotSaved, match="not a file"):
        place.again().append([draft("noted", NOON, note="two")], NOON)
    assert "special" in place.kinds()
    assert not outside.exists() if what != "link" else outside.read_text() == "mine\n"


def test_a_file_set_back_to_an_older_state_is_left_alone(place):
    """Restored from a backup: what was lost may still come back from elsewhere, so a new file is begun."""
    place.note("one")
    old, path = place.file.read_bytes(), place.file
    place.note("two")
    path.write_bytes(old)
    place.ledger = place.again()
    place.note("three")
    assert path.read_bytes() == old and len(place.files()) == 2
    assert place.notes() == ["one", "three"]


def test_a_file_that_another_wrote_to_is_left_alone(place):
    """A line of ours is gone and another stands there: some other machine uses this name."""
    place.note("one", "two")
    path = place.file
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(lines[0])
    place.ledger = place.again()
    place.note("three")
    assert path.read_bytes() == lines[0] and len(place.files()) == 2


def test_a_file_replaced_by_the_same_bytes_is_still_ours(place):
    """A sync that writes a new file under the old name."""
    place.note("one")
    path = place.file
    data = path.read_bytes()
    path.unlink()
    path.write_bytes(data)
    place.note("two")
    assert place.files() == [path] and place.notes() == ["one", "two"]


def test_a_copied_home_on_another_machine_becomes_another_device(place):
    """A cloned card carries the device's name along; the machine's own name tells."""
    place.note("one")
    clone = place.again()
    clone.identity._machine = lambda: "another machine"
    clone.append([draft("noted", NOON, note="two")], NOON)
    assert len(place.files()) == 2


def test_many_writers_lose_nothing_and_share_one_file(place):
    """Eight threads with ledgers of their own, as eight processes would."""
    place.note("first")

    def work(name):
        ledger = place.again()
        for count in range(10):
            ledger.append([draft("noted", NOON, note=f"{name}-{count}")], NOON)

    threads = [threading.Thread(target=work, args=(name,)) for name in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    events = place.again().read().events
    assert sorted(e.note for e in events) == sorted(["first", *(f"{n}-{c}" for n in range(8) for c in range(10))])
    assert [e.seq for e in events] == list(range(1, 82)) and len(place.files()) == 1


def test_a_lock_held_too_long_is_told(tmp_path):
    """Waiting for ever would look like a crash."""
    first, second = Lock(tmp_path / "lock"), Lock(tmp_path / "lock")
    with first.held(), pytest.raises(NotSaved, match="held this cellar too long"), second.held(patience_s=0.05):
        pass
    with second.held():
        pass


def test_a_lock_whose_file_was_deleted_still_excludes(tmp_path):
    """Somebody tidies the state folder while the program runs."""
    first, second = Lock(tmp_path / "lock"), Lock(tmp_path / "lock")
    with first.held():
        pass
    (tmp_path / "lock").unlink()
    with first.held(), pytest.raises(NotSaved), second.held(patience_s=0.05):
        pass


def test_a_newer_format_is_not_added_to(place):
    """Seen at the end of any file, without reading the whole cellar."""
    place.note("one")
    (place.cellar / "events" / "00000000000000aa.jsonl").write_bytes(
        b'{"v":2,"id":"01a00000-0000-7000-8000-000000000000","kind":"dreamt","at":"2026-06-01T12:00:00Z"}\n'
    )
    found = place.again().read()
    assert found.read_only and [t.kind for t in found.troubles] == ["newer"]
    before = place.snapshot()
    with pytest.raises(NotSaved, match="format 2"):
        place.again().append([draft("noted", NOON, note="two")], NOON)
    assert place.snapshot() == before


def test_a_state_folder_that_cannot_be_written_is_told(place, monkeypatch):
    """Another user's cellar, or a home that is read-only."""
    ledger = place.again()
    ledger.identity.folder = place.cellar / "cellar.toml" / "nowhere"
    with pytest.raises(NotSaved, match="not saved"):
        ledger.append([draft("noted", NOON, note="x")], NOON)


def test_a_full_state_disk_does_not_scatter_files(place, monkeypatch):
    """The hint cannot be left, so it grows old; the file is still plainly ours."""
    place.note("one")
    monkeypatch.setattr(Lock, "leave", failing(errno.ENOSPC))
    place.note("two", "three")
    place.ledger = place.again()
    place.note("four")
    assert len(place.files()) == 1 and place.notes() == ["one", "two", "three", "four"]
