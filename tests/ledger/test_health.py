"""What `verify` is told: everything that may be missing or wrong, and nothing else."""

import json
from datetime import timedelta

from ledger.conftest import NOON

from mustwatch.ledger.crc import sealed
from mustwatch.ledger.drafts import draft


def health(place, now=NOON):
    return place.again().health(now)


def kinds(place, now=NOON):
    return [(trouble.kind, trouble.fatal) for trouble in health(place, now).troubles]


def test_a_sound_cellar_is_called_sound(place):
    """With how much was looked at."""
    place.note("one", "two")
    found = health(place)
    assert found.sound and found.events == 2 and found.troubles == ()
    assert [(each.events, each.ours) for each in found.files] == [(2, True)]


def test_a_missing_number_is_missed(place):
    """A line cut out cleanly leaves no other trace."""
    place.note("one", "two", "three", "four")
    lines = place.file.read_bytes().splitlines(keepends=True)
    place.file.write_bytes(lines[0] + lines[3])
    found = health(place)
    assert not found.sound and "numbers 2 to 3" in found.troubles[0].what


def test_a_damaged_line_explains_its_missing_number(place):
    """One damage, one trouble."""
    place.note("one", "two", "three")
    place.file.write_bytes(place.file.read_bytes().replace(b'"two"', b'"twp"'))
    assert kinds(place) == [("checksum", True)]


def test_one_number_on_two_events_means_two_machines(place):
    """A cloned card that kept its device name, merged by git."""
    place.note("one", "two")
    keys = json.loads(place.file.read_bytes().splitlines()[1])
    keys.pop("crc")
    keys["id"] = keys["id"][:-1] + ("0" if keys["id"][-1] != "0" else "1")
    with place.file.open("ab") as file:
        file.write(sealed(json.dumps(keys, separators=(",", ":")).encode()) + b"\n")
    assert ("clash", True) in kinds(place)


def test_doubled_lines_are_no_trouble(place):
    """The same bytes twice are one event."""
    place.note("one", "two")
    place.file.write_bytes(place.file.read_bytes() * 2)
    found = health(place)
    assert found.sound and found.events == 2


def test_a_clock_that_ran_ahead_is_told_and_harms_nothing(place):
    """The order stands; the reader knows which entries to doubt."""
    place.note("one")
    far = NOON + timedelta(days=4000)
    place.ledger.append([draft("noted", far, note="two")], far)
    place.note("three")
    assert health(place).sound and kinds(place) == [("clock", False)]
    assert place.notes() == ["one", "two", "three"]


def test_a_clock_that_stepped_back_is_told(place):
    """Its ids tick on from the last one, far from the times beside them."""
    place.note("one")
    back = NOON - timedelta(days=400)
    for _ in range(2):
        place.ledger.append([draft("noted", back, note="x")], back)
    found = health(place)
    assert found.sound and [t.kind for t in found.troubles] == ["clock"] and found.troubles[0].what.startswith("2 ")


def test_an_entry_dated_back_by_hand_is_no_clock_trouble(place):
    """Writing down last week's reading is ordinary."""
    place.note("one")
    later = NOON + timedelta(days=30)
    place.ledger.append([draft("noted", NOON - timedelta(days=7), note="x")], later)
    assert kinds(place, later) == []


def test_a_newer_format_is_told_but_is_no_damage(place):
    """Nothing is wrong with it; this program is too old."""
    place.note("one")
    (place.cellar / "events" / "00000000000000aa.jsonl").write_bytes(
        b'{"v":2,"id":"01900000-0000-7000-8000-000000000000","kind":"dreamt","at":"2026-06-01T12:00:00Z"}\n'
    )
    assert kinds(place) == [("newer", False)]


def test_a_line_just_being_written_is_looked_at_twice(place, monkeypatch):
    """A reader may come between two blocks of a write."""
    from mustwatch.ledger import health as health_module

    place.note("one", "two")
    data = place.file.read_bytes()
    place.file.write_bytes(data[:-10])
    monkeypatch.setattr(health_module.time, "sleep", lambda _s: place.file.write_bytes(data))
    assert health(place).sound


def test_looking_writes_nothing(place):
    """Not even beside damage."""
    place.note("one")
    with place.file.open("ab") as file:
        file.write(b"junk\n{torn")
    before = place.snapshot()
    assert not health(place).sound
    assert place.snapshot() == before
