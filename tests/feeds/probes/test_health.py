"""A probe that is lost, stuck or absurd gives no readings, and is told once."""

from datetime import UTC, datetime, timedelta

from mustwatch.feeds.probes.config import Probe
from mustwatch.feeds.probes.health import Health
from mustwatch.feeds.probes.sample import Fault, Sample

BEGAN = datetime(2026, 1, 1, tzinfo=UTC)
PROBE = Probe("shelf", "w1", "fir")


def played(found, step=timedelta(minutes=1), probe=PROBE):
    """(how many values may be readings, the states told) of a row of values or faults, one a minute."""
    health, taken, told = Health(probe, BEGAN), 0, []
    for n, one in enumerate(found):
        at = BEGAN + n * step
        sample, change = health.look(one(at) if callable(one) else Sample(at, one), at)
        taken += sample is not None
        told += [change.state] if change else []
    return taken, told


def lost(at: datetime) -> Fault:
    return Fault(at, "lost", "has a wrong checksum")


def test_a_single_bad_value_is_not_worth_a_word():
    """A glitch on the wire: no reading, no finding."""
    assert played([20.0, lost, 20.1, lost, 20.0]) == (3, [])


def test_bad_values_in_a_row_are_told_once_and_their_end_too():
    """Ten in a row; then well again."""
    assert played([20.0, *[lost] * 40, 20.1, 20.2]) == (3, ["lost", "well"])


def test_silence_is_a_loss():
    """An hour, by the time of this machine; not told twice."""
    health = Health(PROBE, BEGAN)
    assert health.quiet(BEGAN + timedelta(minutes=59)) is None
    told = health.quiet(BEGAN + timedelta(minutes=61))
    assert told and told.state == "lost" and told.since == BEGAN
    assert health.quiet(BEGAN + timedelta(days=3)) is None
    sample, back = health.look(Sample(BEGAN + timedelta(days=4), 20.0), BEGAN + timedelta(days=4))
    assert sample and back and back.state == "well"


def test_the_very_same_value_for_days_is_stuck_and_no_reading():
    """Three days; the moment it moves it is well. The day before it is taken for a still cellar."""
    hours = timedelta(hours=1)
    assert played([20.0] * 72, hours) == (72, [])
    taken, told = played([20.0] * 100 + [20.1], hours)
    assert told == ["stuck", "well"] and taken == 73


def test_a_float_at_rest_is_not_stuck_while_its_warmth_moves():
    """Its gravity may well stand still for weeks."""
    hours = timedelta(hours=1)
    values = [lambda at, n=n: Sample(at, 20 + n % 2 / 10, 1.002) for n in range(200)]
    assert played(values, hours) == (200, [])


def test_absurd_values_are_no_readings():
    """Of the air at -40, of a must at 120 degrees, of a gravity of lead."""
    assert played([20.0, *[-40.0] * 12, 20.0]) == (2, ["absurd", "well"])
    heavy = [lambda at: Sample(at, 20.0, 1.9)] * 12
    assert played(heavy) == (0, ["absurd"])


def test_what_shows_85_degrees_is_stuck():
    """As a sensor of the bus does that was switched on and never measured."""
    assert played([20.0, *[lambda at: Fault(at, "stuck", "shows 85 °C")] * 12]) == (1, ["stuck"])
