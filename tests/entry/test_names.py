"""The clock that times are told by."""

import time
from datetime import UTC, datetime, timedelta, timezone

import pytest

from mustwatch.entry.names import local

NOON = datetime(2026, 6, 1, 12, tzinfo=UTC)
THEN = datetime(2026, 1, 1, 12, tzinfo=UTC)


@pytest.fixture
def zone(monkeypatch):
    """Sets the machine's zone."""

    def put(name: str) -> None:
        monkeypatch.setenv("TZ", name)
        time.tzset()

    yield put
    monkeypatch.undo()
    time.tzset()


def test_the_machines_zone_counts_where_now_stands_in_it(zone):
    """In winter its own winter hour."""
    zone("Europe/Berlin")
    assert local(THEN, NOON.astimezone()).hour == 13
    assert local(THEN, NOON).hour == 12


def test_a_zone_set_anew_counts_at_once(zone):
    """What is remembered of one `now` is not taken for another zone, nor for the same moment told by another clock."""
    for name, hour in (("UTC", 12), ("Europe/Berlin", 13), ("UTC", 12)):
        zone(name)
        assert local(THEN, NOON.astimezone()).hour == hour
    zone("Europe/Berlin")
    assert [local(THEN, NOON.astimezone(timezone(timedelta(hours=hours)))).hour for hours in (2, 5, 2)] == [13, 17, 13]
