"""Links in place of the ledger's own folder and files: named, read, and never written through."""

import os

import pytest
from ledger.conftest import NOON

from mustwatch.ledger.trouble import NotSaved, Unusable


def special(place):
    return [(one.file, one.what) for one in place.again().health(NOON).troubles if one.kind == "special"]


def test_a_linked_folder_of_events_is_named_read_and_not_written_through(place, tmp_path):
    """It may lead into another cellar, or out of every backup."""
    place.note("one")
    outside = tmp_path / "outside"
    (place.cellar / "events").rename(outside)
    (place.cellar / "events").symlink_to(outside)
    before = place.snapshot()
    place.ledger = place.again()
    with pytest.raises(NotSaved, match="^not saved: events is a symbolic link, not a folder$"):
        place.note("two")
    assert place.notes() == ["one"] and place.snapshot() == before and len(list(outside.iterdir())) == 1
    ((file, what),) = special(place)
    assert file == "events" and "symbolic link" in what and not place.again().health(NOON).sound
    assert [each.kind for each in place.again().read().troubles] == ["special"]


def test_a_writer_that_runs_on_sees_the_folder_replaced_by_a_link(place, tmp_path):
    """Every save looks, not the first alone."""
    place.note("one")
    (place.cellar / "events").rename(tmp_path / "outside")
    (place.cellar / "events").symlink_to(tmp_path / "outside")
    with pytest.raises(NotSaved, match="symbolic link"):
        place.note("two")


def test_an_own_file_with_a_second_name_is_named_and_not_written_through(place, tmp_path):
    """What is written to the one changes the other: a copy that was meant to stay as it was."""
    place.note("one")
    other = tmp_path / "kept.jsonl"
    os.link(place.file, other)
    before = other.read_bytes()
    place.ledger = place.again()
    with pytest.raises(NotSaved, match="a hard link.*`mustwatch repair` makes it a file of its own"):
        place.note("two")
    with pytest.raises(NotSaved, match="hard link"):
        place.again().append(place.again().read().events, NOON)
    assert other.read_bytes() == before and place.notes() == ["one"]
    assert [file for file, _ in special(place)] == [place.file.name]


def test_repair_gives_it_a_file_of_its_own(place, tmp_path):
    """The other name keeps the bytes; a torn end is not cut through it."""
    place.note("one")
    with place.file.open("ab") as file:
        file.write(b'{"v":1,"to')
    other = tmp_path / "kept.jsonl"
    os.link(place.file, other)
    before = other.read_bytes()
    link, tail = place.again().mends()
    assert (link.what, tail.what) == ("link", "tail")
    with pytest.raises(Unusable, match="hard link"):
        place.again().mend(tail, NOON)
    assert place.again().mend(link, NOON) == "it is a file of its own now" and place.file.read_bytes() == before
    place.ledger = place.again()
    place.note("two")
    assert place.notes() == ["one", "two"] and other.read_bytes() == before
    assert special(place) == []


def test_a_linked_aside_is_named_and_nothing_is_set_aside_through_it(place, tmp_path):
    """A save that would have to is refused, in one line; nothing is cut off that is not safe elsewhere."""
    place.note("one")
    with place.file.open("ab") as file:
        file.write(b'{"v":1,"to')
    before = place.file.read_bytes()
    (tmp_path / "outside").mkdir()
    (place.cellar / "aside").symlink_to(tmp_path / "outside")
    place.ledger = place.again()
    with pytest.raises(NotSaved, match="^not saved: aside is a symbolic link, not a folder$"):
        place.note("two")
    assert place.file.read_bytes() == before and not list((tmp_path / "outside").iterdir())
    assert [file for file, _ in special(place)] == ["aside"]
    assert [mend.what for mend in place.again().mends()] == ["tail"]
