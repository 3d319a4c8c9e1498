"""Events that bring their ids: once, and never over another."""

import pytest
from ledger.conftest import NOON

from mustwatch.ledger.codec import parse
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.intake import Clash


def exported(place):
    return [parse(line) for _, line in place.again().lines()]


def test_events_of_another_cellar_keep_their_ids(another):
    """The story is the same in both; the numbers are the new device's own."""
    first, second = another("first"), another("second")
    ids = first.note("one", "two")
    second.note("zero")
    taken = second.ledger.import_events(exported(first), NOON)
    assert [event.id for event in taken.added] == ids and taken.known == 0
    assert [event.seq for event in taken.added] == [2, 3]
    assert sorted(second.notes()) == ["one", "two", "zero"] and second.kinds() == []


def test_the_same_file_twice_adds_nothing(another):
    """Here, or already on the way by a sync."""
    first, second = another("first"), another("second")
    first.note("one", "two")
    second.ledger.import_events(exported(first), NOON)
    before = second.snapshot()
    taken = second.again().import_events(exported(first), NOON)
    assert (taken.added, taken.known) == ((), 2) and second.snapshot() == before


def test_an_imported_event_and_its_original_are_one(another):
    """Only number and checksum differ: that is not two events."""
    first, second = another("first"), another("second")
    first.note("one")
    second.ledger.import_events(exported(first), NOON)
    (second.cellar / "events" / first.file.name).write_bytes(first.file.read_bytes())
    assert second.notes() == ["one"] and second.kinds() == []
    assert len(list(second.again().lines())) == 1


def test_an_id_that_stands_for_something_else_stops_everything(place):
    """All or nothing, and which rows were in the way."""
    place.note("one", "two")
    events = exported(place)
    before = place.snapshot()
    with pytest.raises(Clash) as clash:
        place.ledger.import_events(
            [draft("noted", NOON, note="new"), events[1].model_copy(update={"note": "other"})], NOON
        )
    assert clash.value.positions == (1,) and place.snapshot() == before


def test_events_without_ids_get_them_and_are_known_again(place):
    """A table of readings brought in twice must not double them."""
    rows = [draft("read", NOON, "fir", ph=3.5), draft("read", NOON, "fir", must_c=20.5)]
    taken = place.ledger.import_events(rows, NOON)
    assert len({event.id for event in taken.added}) == 2
    assert place.again().import_events(rows, NOON).known == 2
    assert len(place.again().read().events) == 2
