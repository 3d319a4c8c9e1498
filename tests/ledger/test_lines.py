"""Damage inside a file: skipped, told with its line, never touched, never spread."""

import random

import pytest
from ledger.conftest import NOON

from mustwatch.ledger.tail import lines_backwards
from mustwatch.ledger.trouble import Unusable

DEEP = b"[" * 100_000 + b"]" * 100_000
JUNK = bytes(b for b in random.Random(7).randbytes(400) if b != 10)
BAD_LINES = {
    "random bytes": JUNK,
    "half an object": b'{"v":1,"kind":"noted","no',
    "not an object": b'["a",1]',
    "a number": b"12345",
    "bad UTF-8": b'{"v":1,"id":"x","kind":"noted","at":"2026-06-01T12:00:00Z","note":"\xff\xfe"}',
    "deep arrays": DEEP,
    "deep objects": b'{"a":' * 50_000 + b"1" + b"}" * 50_000,
    "a huge number": b'{"v":1,"id":"big","at":"2026-06-01T12:00:00Z","kind":"x","n":' + b"9" * 100_000 + b"}",
    "not a number": b'{"v":1,"id":"nan","at":"2026-06-01T12:00:00Z","kind":"x","n":NaN}',
    "infinite": b'{"v":1,"id":"inf","at":"2026-06-01T12:00:00Z","kind":"x","n":1e999}',
    "a key twice": b'{"v":1,"id":"a","at":"2026-06-01T12:00:00Z","kind":"noted","kind":"ended"}',
    "wrong types": b'{"v":1,"id":{"$ne":1},"kind":["x"],"at":true}',
    "zero bytes": b"\0" * 100,
    "no id": b'{"v":1,"at":"2026-06-01T12:00:00Z","kind":"noted","note":"x"}',
    "no such day": b'{"v":1,"id":"a","at":"2026-02-30T12:00:00Z","kind":"noted","note":"x"}',
    "a leap second at the end of time": b'{"v":1,"id":"a","at":"9999-12-31T23:59:60Z","kind":"noted"}',
    "merge marks": b"<<<<<<< HEAD",
    "an impossible pH": b'{"v":1,"id":"a","at":"2026-06-01T12:00:00Z","batch":"fir","kind":"read","ph":15}',
}


def edited(place, change) -> bytes:
    """The file after `change`, a function of its list of lines."""
    lines = place.file.read_bytes().split(b"\n")
    change(lines)
    data = b"\n".join(lines)
    place.file.write_bytes(data)
    return data


@pytest.mark.parametrize("at", [0, 1, 2])
@pytest.mark.parametrize("bad", BAD_LINES.values(), ids=BAD_LINES)
def test_a_bad_line_costs_only_itself(place, bad, at):
    """Told with its number; the neighbours load; nothing rewrites it; saving goes on."""
    place.note("one", "two")
    edited(place, lambda lines: lines.insert(at, bad))
    (trouble,) = place.again().read().troubles
    assert (trouble.line, trouble.fatal) == (at + 1, True)
    assert place.notes() == ["one", "two"]
    place.ledger = place.again()
    place.note("three")
    assert place.notes() == ["one", "two", "three"]
    assert bad in b"".join(path.read_bytes() for path in place.files())
    listed = [line for _, line in place.ledger.lines()]
    assert len(listed) == 3 or bad in listed


def test_a_changed_byte_is_seen_by_the_checksum(place):
    """The JSON is still valid: 1.050 that became 1.060 must not pass."""
    place.note("one", "two", "three")
    place.file.write_bytes(place.file.read_bytes().replace(b'"two"', b'"twp"'))
    (trouble,) = place.again().read().troubles
    assert trouble.kind == "checksum" and trouble.line == 2 and "twp" in trouble.text
    assert place.notes() == ["one", "three"]


def test_a_sound_event_behind_damage_in_one_line_is_saved(place):
    """Zero bytes or half a line before it: the checksum proves the rest whole."""
    place.note("one", "two", "three")
    edited(place, lambda lines: lines.__setitem__(1, b"\0" * 512 + lines[1]))
    assert place.notes() == ["one", "two", "three"] and place.kinds() == ["damaged"]
    edited(place, lambda lines: lines.__setitem__(0, lines[0][:40] + lines[1].lstrip(b"\0")) or lines.pop(1))
    assert place.notes() == ["two", "three"] and place.kinds() == ["damaged"]


@pytest.mark.parametrize("tail", [b"\0", b"\0" * 4096, b'{"v":1,"id":"0', b"B" * 3_000_000])
def test_a_bad_end_is_set_aside_by_the_next_save(place, tail):
    """Zero bytes as a power cut leaves them, half a line, a very long one."""
    place.note("one")
    with place.file.open("ab") as file:
        file.write(tail)
    assert place.kinds() == ["torn"]
    place.ledger = place.again()
    place.note("two")
    assert place.notes() == ["one", "two"] and place.aside() == tail


@pytest.mark.parametrize(
    "change",
    [
        lambda b: b"\xef\xbb\xbf" + b,
        lambda b: b.replace(b"\n", b"\r\n"),
        lambda b: b.replace(b"\n", b"\n\n") + b"\n",
        lambda b: b[:-1],
        lambda b: b"\xef\xbb\xbf" + b.replace(b"\n", b"\r\n"),
    ],
    ids=["byte-order mark", "CR LF", "blank lines", "no last line end", "mark and CR LF"],
)
def test_what_editors_do_costs_nothing(place, change):
    """No event lost, no trouble told, and saving goes on."""
    place.note("one", "two")
    place.file.write_bytes(change(place.file.read_bytes()))
    assert place.notes() == ["one", "two"] and place.kinds() == []
    place.ledger = place.again()
    place.note("three")
    assert place.notes() == ["one", "two", "three"] and place.kinds() == []


def test_a_line_without_checksum_is_accepted(place):
    """Written by hand or by another program: other spacing, no crc."""
    place.note("one")
    with place.file.open("ab") as file:
        file.write(b'{ "id": "by-hand", "kind": "noted", "at": "2026-06-01T12:00:00+02:00", "note": "two" }\n')
    assert sorted(place.notes()) == ["one", "two"] and place.kinds() == []


def test_text_that_looks_like_line_ends_stays_one_line(place):
    """Only a line feed ends a line."""
    texts = [f"a{sign}b" for sign in ("\u2028", "\u2029", "\x85", "\x0c", "\x1c", "\r", "\x0b", "\n", '"\\')]
    place.note(*texts)
    assert place.notes() == texts and place.kinds() == []
    assert place.file.read_bytes().count(b"\n") == len(texts)


def test_a_line_of_many_megabytes_does_not_stop_the_rest(place):
    """An event too long to be one of ours is still read, or told."""
    place.note("one", "two")
    huge = b'{"v":1,"id":"huge","at":"2026-06-01T12:00:00Z","kind":"x","text":"' + b"A" * (8 << 20) + b'"}'
    edited(place, lambda lines: lines.insert(1, huge))
    assert [n for n in place.notes() if n] == ["one", "two"]


def test_thousands_of_bad_lines_are_counted_not_kept(place):
    """Memory does not grow with the damage."""
    place.note("one")
    with place.file.open("ab") as file:
        file.write(b"junk\n" * 5000)
    troubles = place.again().read().troubles
    assert len(troubles) == 501 and troubles[-1].what.startswith("4500 more")


@pytest.fixture
def short(monkeypatch):
    """Lines may be a megabyte long, so that the test need not write more."""
    from mustwatch.ledger import lines, tail

    for module in (lines, tail):
        monkeypatch.setattr(module, "LONGEST_LINE", 1 << 20)


def test_a_line_longer_than_any_may_be_is_told_once_and_held_nowhere(place, short):
    """A gigabyte without a line end must not take the program down; its neighbours are read, and numbers stay right."""
    import tracemalloc

    place.note("one")
    with place.file.open("r+b") as file:
        file.seek(0, 2)
        file.truncate(file.tell() + (64 << 20))  # zeros that take no room on the disk
        file.seek(0, 2)
        file.write(b"\n")
    place.ledger = place.again()
    place.note("two")
    tracemalloc.start()
    try:
        ledger = place.again()
        found, health = ledger.read(), ledger.health(NOON)
        backwards = [line for path in place.files() for line in lines_backwards(path)]
        assert tracemalloc.get_traced_memory()[1] < 24 << 20
    finally:
        tracemalloc.stop()
    assert [event.note for event in found.events] == ["one", "two"] and len(backwards) == 2
    told = [(trouble.line, trouble.kind) for trouble in found.troubles]
    assert told == [(2, "damaged")] and not health.sound
    assert "longer than any line may be" in found.troubles[0].what


def test_a_line_too_long_to_be_held_is_not_mended_and_nothing_of_it_is_lost(place, short):
    """Repair lists what it can do; asked for that line it says why not, in one line."""
    place.note("one")
    with place.file.open("ab") as file:
        file.write(b"x" * (2 << 20) + b"\njunk\n")
    before = place.file.read_bytes()
    (mend,) = place.again().mends()
    assert mend.lines == (3,)
    for act in (lambda: place.again().mend(mend, NOON), lambda: place.again().dropping(place.file.name, 2)):
        with pytest.raises(Unusable, match="line 2 is longer than any line may be"):
            act()
    assert place.file.read_bytes() == before
