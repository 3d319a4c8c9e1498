"""A sheet brought in again: new rows, known rows, rows changed since."""

from datetime import UTC, datetime

from mustwatch.feeds.sheets.known import sorted_out
from mustwatch.ledger.codec import encode
from mustwatch.ledger.drafts import draft, stamped

AT = datetime(2026, 5, 1, 12, tzinfo=UTC)


def reading(value: float, at: datetime = AT, **more):
    return draft("read", at, "fir", gravity={"value": value}, **more)


def line(event, number: int = 1) -> bytes:
    return encode(stamped(event, f"id-{number}", number))


def test_rows_that_are_there_are_known_each_once():
    """Two rows alike are two readings: one of them in the ledger accounts for one alone."""
    twice = [reading(1.06), reading(1.06), reading(1.05)]
    found = sorted_out(twice, [line(reading(1.06))])
    assert (found.known, found.new, found.changed) == ((0,), (1, 2), ())


def test_a_row_changed_in_the_sheet_is_told_with_the_entry_it_was():
    """It is not added beside the old one."""
    found = sorted_out([reading(1.06, note="better look")], [line(reading(1.06), 7)])
    assert found.changed == ((0, "id-7"),) and not found.new


def test_an_entry_corrected_in_the_ledger_is_known_by_both():
    """The sheet may have been corrected as well, or not."""
    amend = draft("amended", AT, "fir", target="id-1", set={"gravity.value": 1.05})
    lines = [line(reading(1.06)), line(amend, 2)]
    for value in (1.06, 1.05):
        assert sorted_out([reading(value)], lines).known == (0,)


def test_the_offset_of_a_moment_does_not_matter():
    """The same moment written in another zone is the same."""
    moved = encode(stamped(reading(1.06), "x", 1)).replace(b"2026-05-01T12:00:00Z", b"2026-05-02T01:00:00+13:00")
    assert b"+13:00" in moved and sorted_out([reading(1.06)], [moved]).known == (0,)


def test_a_note_of_the_moment_is_not_a_gravity_changed():
    """What can stand side by side does."""
    assert sorted_out([reading(1.06)], [line(draft("noted", AT, "fir", note="x"))]).new == (0,)
