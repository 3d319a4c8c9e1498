"""What was seen of the files: none can be taken, cut or put back without a word."""

import os
import stat

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ledger.conftest import NOON, Place

from mustwatch.ledger import memory
from mustwatch.ledger.memory import KEPT
from mustwatch.ledger.witness import notes_of

OTHER = "aaaaaaaaaaaaaaaa.jsonl"
FOREIGN = "bbbbbbbbbbbbbbbb.jsonl"


def looked(place, troubles=()):
    """What a fresh process tells of files that are less than they were."""
    ledger = place.again()
    return ledger.missing(notes_of(line for _, line in ledger.lines()), troubles)


def told(place):
    return [(trouble.file, trouble.kind) for trouble in looked(place)]


def line(number: int, seq: str = "") -> str:
    return (
        f'{{"v":1,"id":"019b7712-8400-7000-8000-00000000000{number}",{seq}'
        f'"at":"2026-01-01T0{number}:00:00Z","kind":"noted","note":"x{number}"}}\n'
    )


@pytest.fixture
def three(tmp_path):
    """A cellar with a file of this machine, one of another, and one of a program that numbers nothing; looked at."""
    place = Place(tmp_path)
    place.note("one", "two", "three")
    events = place.cellar / "events"
    (events / OTHER).write_text("".join(line(n, f'"seq":{n},') for n in (1, 2, 3)))
    (events / FOREIGN).write_text("".join(line(n) for n in (4, 5, 6)))
    assert looked(place) == []
    return place


def verified(place) -> bool:
    """Whether `verify` would call the cellar sound."""
    ledger = place.again()
    health = ledger.health(NOON)
    missing = ledger.missing(notes_of(one for _, one in ledger.lines()), health.troubles)
    return health.sound and not any(trouble.fatal for trouble in missing)


ACTS = st.one_of(
    st.just(("taken", 0)),
    st.just(("emptied", 0)),
    st.tuples(st.sampled_from(("cut at", "cut before")), st.floats(0, 1)),
    st.tuples(st.sampled_from(("put back to", "without line")), st.integers(0, 2)),
    st.just(("of another", 0)),
)


def done(path, act: str, where: float) -> None:
    """Does to a file what a sync, an editor or a broken disk may do."""
    data = path.read_bytes()
    lines = data.splitlines(keepends=True)
    if act == "taken":
        path.unlink()
    elif act == "of another":
        path.write_bytes(line(7, '"seq":1,').encode() + line(8, '"seq":2,').encode() + line(9, '"seq":3,').encode())
    else:
        at = 1 + int(where * (len(data) - 3))
        left = {
            "emptied": b"",
            "cut at": data[:at],
            "cut before": data[at:],
            "put back to": b"".join(lines[: int(where)]),
            "without line": b"".join(one for number, one in enumerate(lines) if number != where),
        }
        path.write_bytes(left[act])


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(which=st.integers(0, 2), act=ACTS)
def test_verify_says_nothing_good_of_a_cellar_from_which_a_file_was_taken_cut_or_put_back(three, which, act):
    """Whatever is done to whichever file; and once it is as it was, all is well again."""
    path = three.files()[which]
    before = path.read_bytes()
    assert verified(three)
    try:
        done(path, *act)
        assert not verified(three)
        assert not verified(three), "a second look forgets nothing"
    finally:
        path.write_bytes(before)
    assert verified(three)


def test_the_own_file_put_back_is_told_before_and_after_the_next_save(place):
    """The next save takes a new name; the loss in the old file is told until it is back."""
    place.note("one", "two", "three")
    path, whole = place.file, place.file.read_bytes()
    path.write_bytes(whole.splitlines(keepends=True)[0])
    assert told(place) == [(path.name, "shrunk")]
    place.ledger = place.again()
    place.note("four")
    assert told(place) == [(path.name, "shrunk")] and len(place.files()) == 2
    path.write_bytes(whole)
    assert told(place) == [] and place.notes() == ["one", "two", "three", "four"]


def test_the_own_file_gone_is_told_though_nobody_looked_before(place):
    """A save leaves its word; the next save takes it along into the memory."""
    place.note("one")
    path = place.file
    path.unlink()
    assert told(place) == [(path.name, "vanished")]
    place.ledger = place.again()
    place.note("two")
    assert told(place) == [(path.name, "vanished")]


def test_a_first_look_and_a_growing_file_are_silent(three):
    """There is nothing to compare with, or all is there."""
    with (three.cellar / "events" / OTHER).open("a") as file:
        file.write(line(4, '"seq":4,'))
    three.note("four")
    assert told(three) == []


def test_a_damaged_line_explains_its_own_number(three):
    """One damage, one trouble; what is missing beside it is told."""
    path = three.cellar / "events" / OTHER
    lines = path.read_text().splitlines(keepends=True)
    path.write_text(lines[0] + lines[1] + lines[2].replace('"note"', '"note'))
    troubles = three.again().read().troubles
    assert [one.kind for one in troubles] == ["damaged"] and looked(three, troubles) == []
    path.write_text(lines[0] + lines[2].replace('"note"', '"note'))
    assert [one.kind for one in looked(three, three.again().read().troubles)] == ["shrunk"]


def test_a_copy_that_was_taken_in_is_no_loss_and_one_that_was_not_is(three):
    """What stands in it stands elsewhere, or nowhere."""
    copy = three.cellar / "events" / f"{OTHER[:16]} (copy).jsonl"
    copy.write_text(line(3, '"seq":3,'))
    assert told(three) == []
    copy.unlink()
    assert told(three) == []
    copy.write_text(line(9, '"seq":4,'))
    assert told(three) == []
    copy.unlink()
    assert told(three) == [(copy.name, "vanished")]


@pytest.mark.parametrize("text", ["", "{", "[]", "null", '{"at":1,"devices":{}}', '{"at":"","devices":{"a":"b"}}',
                                  '{"at":"","devices":{},"files":{"a":[1]}}'])  # fmt: skip
def test_a_broken_memory_is_said_until_it_is_begun_anew(three, text):
    """Nobody knows then whether a file went back; no look may quietly begin it anew, and no save fails."""
    path = three.ledger.identity.folder / KEPT
    path.write_text(text)
    assert [(one.kind, one.fatal) for one in looked(three)] == [("memory", True)]
    three.ledger = three.again()
    three.note("four")
    assert path.read_text() == text and [one.kind for one in looked(three)] == ["memory"]
    memory.begin_anew(three.cellar, three.ledger.identity)
    assert looked(three) == []


def test_a_memory_that_others_can_write_is_not_believed(three):
    """It could make a loss look like none."""
    path = three.ledger.identity.folder / KEPT
    path.chmod(0o666)
    assert [(one.kind, one.fatal) for one in looked(three)] == [("memory", True)]
    path.unlink()
    path.symlink_to("/dev/null")
    assert [(one.kind, one.fatal) for one in looked(three)] == [("memory", True)]


def test_a_memory_that_cannot_be_kept_is_said_and_harms_nothing(three, monkeypatch):
    """A full disk in local state."""

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(memory, "write_whole", full)
    with (three.cellar / "events" / OTHER).open("a") as file:
        file.write(line(4, '"seq":4,'))
    found = looked(three)
    assert [(one.kind, one.fatal) for one in found] == [("memory", False)]
    assert "No space left" in found[0].what


def test_a_new_cellar_where_another_was_has_no_past(place):
    """What was seen of the old one is none of its business."""
    place.note("one")
    place.file.unlink()
    memory.forget(place.ledger.identity)
    assert told(place) == []


@pytest.mark.parametrize("umask", [0o000, 0o022, 0o277, 0o777])
def test_local_state_is_open_to_its_owner_alone_under_any_umask(tmp_path, umask):
    """Also where a folder was there already, wider."""
    wide = tmp_path / "machine-home" / "state" / "cellars"
    wide.mkdir(parents=True)
    for folder in (wide, wide.parent):
        folder.chmod(0o755)
    before = os.umask(umask)
    try:
        place = Place(tmp_path)
        place.note("one")
    finally:
        os.umask(before)
    folders = [wide.parent, *(path for path in wide.parent.rglob("*") if path.is_dir())]
    assert {stat.S_IMODE(folder.stat().st_mode) for folder in (*folders, place.cellar)} == {0o700}
    files = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert len(files) > 5 and {stat.S_IMODE(path.stat().st_mode) for path in files} == {0o600}
    assert place.notes() == ["one"]
