"""The calendar: read again by a parser that did not write it, and held to RFC 5545 line by line."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
import vobject

from mustwatch.feeds.ical import KEPT_DAYS, uid_of, write_calendar
from mustwatch.feeds.written import Unwritable
from mustwatch.rules.due import Due
from mustwatch.rules.finding import Severity

NOON = datetime(2026, 5, 14, 12, tzinfo=UTC)
DAY = timedelta(days=1)


def _due(batch: str = "fir", kind: str = "reading-overdue", on: datetime = NOON, **more) -> Due:
    what = more.pop("what", "Take a reading, with the sample's temperature.")
    return Due(on, batch, what, more.pop("why", "Not read, since 9 May."), "rule", kind, ("id-1", "id-2"), **more)


def _read(path: Path) -> dict[str, vobject.base.Component]:
    """The entries of a calendar by name, as the second parser reads them."""
    events = list(vobject.readOne(path.read_text("utf-8")).vevent_list)
    found = {event.uid.value: event for event in events}
    assert len(found) == len(events), "a name stands twice"
    return found


@pytest.fixture
def ics(tmp_path: Path) -> Path:
    return tmp_path / "ahead.ics"


def test_another_parser_reads_day_text_alarm_and_name(ics: Path) -> None:
    """What was written is what is read."""
    due = _due(severity=Severity.TODAY)
    assert write_calendar(ics, [due], NOON, NOON) == 1
    (event,) = _read(ics).values()
    assert event.uid.value == uid_of(due)
    assert (event.dtstart.value, event.dtend.value) == (date(2026, 5, 14), date(2026, 5, 15))
    assert event.summary.value == "fir: Take a reading, with the sample's temperature."
    assert event.description.value == "Not read, since 9 May."
    assert event.valarm.trigger.value == timedelta(hours=9) and event.valarm.action.value == "DISPLAY"


def test_every_line_is_as_the_standard_wants_it(ics: Path) -> None:
    """RFC 5545, 3.1: ended by CR LF, 75 octets at most, folded lines begin with a blank; 3.6: what must be there."""
    write_calendar(ics, [_due(what="Räuchere nicht; wörtlich, " * 12, why="two\nlines \\ and; more, " * 9)], NOON, NOON)
    content = ics.read_bytes()
    lines = content.split(b"\r\n")
    assert lines[-1] == b"" and b"\n" not in content.replace(b"\r\n", b"")
    assert all(len(line) <= 75 for line in lines)
    unfolded = content.replace(b"\r\n ", b"").decode("utf-8").split("\r\n")
    assert all(":" in line for line in unfolded[:-1])
    for needed in ("VERSION:2.0", "PRODID:-//mustwatch", "UID:", "DTSTAMP:", "SEQUENCE:0", "LAST-MODIFIED:"):
        assert sum(line.startswith(needed) for line in unfolded) == 1
    (event,) = _read(ics).values()
    assert event.description.value == ("two\nlines \\ and; more, " * 9)


def test_written_again_nothing_changes_and_nothing_is_doubled(ics: Path) -> None:
    """Byte by byte, an hour later on another clock."""
    write_calendar(ics, [_due(), _due("oak")], NOON, NOON)
    before = ics.read_bytes()
    write_calendar(ics, [_due("oak"), _due()], NOON + timedelta(hours=1), NOON + timedelta(hours=1))
    assert ics.read_bytes() == before


@pytest.mark.parametrize(
    ("change", "sequence"), [({"on": NOON + 2 * DAY}, "1"), ({"what": "Read it."}, "1"), ({"why": "Late."}, "0")]
)
def test_a_change_keeps_the_name_and_tells_of_a_revision(ics: Path, change: dict, sequence: str) -> None:
    """A calendar that copied the entry replaces it. The number rises where the day or the act changed (RFC 5546)."""
    write_calendar(ics, [_due()], NOON, NOON)
    write_calendar(ics, [_due(**change)], NOON, NOON + DAY)
    (event,) = _read(ics).values()
    assert event.uid.value == uid_of(_due()) and event.sequence.value == sequence
    assert event.last_modified.value == NOON + DAY


def test_what_is_no_longer_due_is_cancelled_once_and_forgotten_later(ics: Path) -> None:
    """A calendar that copied it takes it out again; it comes back as a new revision."""
    write_calendar(ics, [_due(), _due("oak")], NOON, NOON)
    write_calendar(ics, [_due("oak")], NOON, NOON)
    gone = _read(ics)[uid_of(_due())]
    assert (gone.status.value, gone.sequence.value) == ("CANCELLED", "1")
    write_calendar(ics, [_due("oak")], NOON, NOON + DAY)
    assert _read(ics)[uid_of(_due())].sequence.value == "1"
    write_calendar(ics, [_due("oak"), _due()], NOON, NOON)
    assert _read(ics)[uid_of(_due())].sequence.value == "2"
    write_calendar(ics, [_due("oak")], NOON, NOON)
    for days, there in ((KEPT_DAYS, True), (KEPT_DAYS + 1, False)):
        write_calendar(ics, [_due("oak")], NOON + days * DAY, NOON)
        assert (uid_of(_due()) in _read(ics)) is there


def test_the_name_rests_on_batch_kind_and_first_evidence_and_on_no_date() -> None:
    """Later evidence adds to a fact, it does not make another one."""
    later = Due(NOON + DAY, "fir", "x", "y", "rule", "reading-overdue", ("id-1", "id-9"))
    assert uid_of(later) == uid_of(_due())
    others = {uid_of(_due("oak")), uid_of(_due(kind="lock-dry")), uid_of(_due())}
    assert len(others) == 3


def test_what_is_past_its_day_stands_on_today(ics: Path) -> None:
    """Nobody looks at last week's page."""
    write_calendar(ics, [_due(on=NOON - 9 * DAY)], NOON, NOON)
    (event,) = _read(ics).values()
    assert event.dtstart.value == date(2026, 5, 14)


FOREIGN = (
    b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//someone//else//EN\r\nBEGIN:VEVENT\r\nUID:1@x\r\n"
    b"DTSTAMP:20260101T000000Z\r\nDTSTART:20260101T000000Z\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
)


@pytest.mark.parametrize("there", [FOREIGN, b"dear diary\n", b"", b"\xff\xfe\x00"])
def test_a_file_that_is_not_ours_is_left_alone(ics: Path, there: bytes) -> None:
    """It may be somebody's appointments."""
    ics.write_bytes(there)
    with pytest.raises(Unwritable):
        write_calendar(ics, [_due()], NOON, NOON)
    assert ics.read_bytes() == there and [path.name for path in ics.parent.iterdir()] == ["ahead.ics"]


def test_an_entry_of_somebody_else_in_our_file_is_not_thrown_away(ics: Path) -> None:
    """A calendar program may have added one."""
    write_calendar(ics, [_due()], NOON, NOON)
    added = FOREIGN[FOREIGN.index(b"BEGIN:VEVENT") : FOREIGN.index(b"END:VCALENDAR")]
    ics.write_bytes(ics.read_bytes().replace(b"END:VCALENDAR", added + b"END:VCALENDAR"))
    with pytest.raises(Unwritable, match="did not write"):
        write_calendar(ics, [_due()], NOON, NOON)


def test_what_users_wrote_cannot_break_out_of_its_line(ics: Path) -> None:
    """A note with line breaks and colons is text and no property."""
    write_calendar(ics, [_due(what="a\r\nATTENDEE:mailto:x@y", why="b\r\nEND:VEVENT\x1b[2J")], NOON, NOON)
    (event,) = _read(ics).values()
    assert not hasattr(event, "attendee") and b"\x1b" not in ics.read_bytes()


def test_a_link_is_not_written_through(ics: Path, tmp_path: Path) -> None:
    """What it points at is not this program's to replace."""
    (tmp_path / "other").write_bytes(b"kept")
    ics.symlink_to(tmp_path / "other")
    with pytest.raises(Unwritable):
        write_calendar(ics, [_due()], NOON, NOON)
    assert (tmp_path / "other").read_bytes() == b"kept"
