"""Messages: what is found in them, at which time, under which calibration."""

from datetime import UTC, datetime, timedelta

import pytest

from mustwatch.feeds.probes.config import Probe
from mustwatch.feeds.probes.messages import calibrated, sample_of
from mustwatch.feeds.probes.sample import Fault, Sample

NOW = datetime(2026, 5, 1, 12, tzinfo=UTC)


def probe(**where) -> Probe:
    return Probe("p", "mqtt", "fir", where={"topic": "t", **where})


@pytest.mark.parametrize(
    ("path", "payload"),
    [("$", b"20.5"), ("temp", b'{"temp":20.5}'), ("temp", b'{"temp":"20.5"}'),
     ("a.b[1].c", b'{"a":{"b":[0,{"c":20.5}]}}'),
     ("$.a", b'{"a":20.5}'), ("[0]", b"[20.5]")],
)  # fmt: skip
def test_a_value_is_found_by_its_path(path, payload):
    """A bare number, a key, a place in a list."""
    found = sample_of(probe(temperature=path), payload, NOW)
    assert isinstance(found, Sample) and found.celsius == 20.5 and found.at == NOW and not found.told


@pytest.mark.parametrize(
    "payload",
    [b"", b"\xff", b"{", b"null", b"{}", b'{"temp":null}', b'{"temp":true}', b'{"temp":"warm"}', b'{"temp":NaN}',
     b'{"temp":1e999}', b"[" * 50_000, b'{"temp":' + b"9" * 70_000 + b"}"],
)  # fmt: skip
def test_what_holds_no_value_is_a_fault(payload):
    """Whatever a device or somebody else sends."""
    assert isinstance(sample_of(probe(temperature="temp"), payload, NOW), Fault)


@pytest.mark.parametrize(
    "stamp", ['"2026-05-01T10:00:00Z"', '"2026-05-01T12:00:00+02:00"', "1777629600", "1777629600000"]
)
def test_the_devices_own_time_counts(stamp):
    """RFC 3339, seconds or milliseconds since 1970."""
    found = sample_of(probe(temperature="c", time="at"), f'{{"c":20,"at":{stamp}}}'.encode(), NOW)
    assert isinstance(found, Sample) and found.told and found.at == NOW - timedelta(hours=2)


def test_a_device_whose_clock_is_ahead_is_not_believed():
    """The value counts as of now."""
    found = sample_of(probe(temperature="c", time="at"), b'{"c":20,"at":"2031-05-01T10:00:00Z"}', NOW)
    assert isinstance(found, Sample) and found.at == NOW and not found.told


def test_a_floats_figure_goes_through_its_own_calibration():
    """Straight between its pairs; degrees of tilt become gravity. Pairs and figures are invented."""
    one = Probe("p", "mqtt", "fir", where={"topic": "t", "gravity": "tilt"}, calibration=((25.0, 1.0), (65.0, 1.08)))
    found = sample_of(one, b'{"tilt":45}', NOW)
    assert isinstance(found, Sample) and found.gravity == pytest.approx(1.04)
    assert calibrated(70.0, [(25.0, 1.0), (45.0, 1.03), (65.0, 1.08)]) == pytest.approx(1.0925)
    assert calibrated(20.0, [(25.0, 1.0), (45.0, 1.03), (65.0, 1.08)]) == pytest.approx(0.9925)


@pytest.mark.parametrize(("scale", "value"), [("sg", 1.042), ("sg", 1042), ("plato", 10.5), ("brix", 10.5)])
def test_a_gravity_comes_in_any_scale(scale, value):
    """10.5 degrees are 1.042, to the third place (the table of the National Bureau of Standards, C440)."""
    one = Probe("p", "mqtt", "fir", where={"topic": "t", "gravity": "g"}, scale=scale)
    found = sample_of(one, f'{{"g":{value}}}'.encode(), NOW)
    assert isinstance(found, Sample) and found.gravity == pytest.approx(1.042, abs=0.0005)
