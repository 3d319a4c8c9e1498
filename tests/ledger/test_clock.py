"""The hybrid clock."""

import uuid
from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from mustwatch.ledger.clock import next_id, time_of

NOON = datetime(2026, 6, 1, 12, tzinfo=UTC)
moments = st.datetimes(datetime(1960, 1, 1), datetime(2999, 1, 1), timezones=st.just(UTC))


@given(st.lists(moments, min_size=2, max_size=40))
def test_ids_rise_however_the_clock_jumps(clock):
    """Order on one device must never depend on its wall clock."""
    made, last = [], None
    for now in clock:
        last = next_id(last, now)
        made.append(last)
    assert made == sorted(set(made))


def test_ids_rise_when_the_clock_stands_still():
    """More events than one millisecond's counter holds."""
    last, made = None, []
    for _ in range(9000):
        last = next_id(last, NOON)
        made.append(last)
    assert made == sorted(set(made))


def test_an_id_is_a_uuid_of_version_seven():
    """RFC 9562 section 5.7: version 7, variant 10, milliseconds first."""
    made = uuid.UUID(next_id(None, NOON))
    assert (made.version, made.variant) == (7, uuid.RFC_4122)
    assert made.int >> 80 == int(NOON.timestamp() * 1000)


def test_the_time_of_the_published_example():
    """RFC 9562 appendix A.6 prints this UUIDv7 for 2022-02-22 14:22:22.00-05:00."""
    printed = time_of("017f22e2-79b0-7cc3-98c4-dc0c0c07398f")
    assert printed == datetime(2022, 2, 22, 14, 22, 22, tzinfo=None).replace(tzinfo=UTC) + timedelta(hours=5)


def test_ids_without_a_clock_are_not_followed():
    """A hostile id at the end of time would leave no room for the next one."""
    for bad in (None, "", "huge", "ffffffff-ffff-7fff-bfff-ffffffffffff", "0" * 36):
        assert abs(time_of(next_id(bad, NOON)) - NOON) < timedelta(milliseconds=1)


def test_a_clock_before_1970_still_gives_an_id():
    """A board without a battery may start anywhere."""
    assert time_of(next_id(None, datetime(1960, 1, 1, tzinfo=UTC))) == datetime(1970, 1, 1, tzinfo=UTC)
