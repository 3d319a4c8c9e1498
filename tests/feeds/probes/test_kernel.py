"""Thermometers as the kernel's files show them; layouts after its own documents (w1_therm, hwmon, iio)."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from mustwatch.feeds.probes.config import Probe
from mustwatch.feeds.probes.kernel import value_of
from mustwatch.feeds.probes.sample import Fault, Sample

NOW = datetime(2026, 5, 1, tzinfo=UTC)
ID = "28-0123456789ab"


def w1(root: Path, text: str | None) -> Sample | Fault:
    if text is not None:
        (root / ID).mkdir(exist_ok=True)
        (root / ID / "w1_slave").write_text(text)
    return value_of(Probe("p", "w1", "fir", None, str(root), {"id": ID}, offset_c=-0.5), NOW)


@pytest.mark.parametrize(("thousandths", "celsius"), [(21562, 21.062), (-1250, -1.75), (0, -0.5)])
def test_a_sensor_of_the_bus_is_read_and_set_right(tmp_path, thousandths, celsius):
    """Two lines: the checksum's word, then thousandths of a degree."""
    found = w1(tmp_path, f"4b 01 4b 46 7f ff 0c 10 d8 : crc=d8 YES\n4b 01 4b 46 7f ff 0c 10 d8 t={thousandths}\n")
    assert isinstance(found, Sample) and found.celsius == pytest.approx(celsius)


@pytest.mark.parametrize(
    ("text", "kind", "why"),
    [
        ("ff ff : crc=c9 NO\nff ff t=-62\n", "lost", "checksum"),
        ("50 05 : crc=1c YES\n50 05 t=85000\n", "stuck", "85 °C"),
        ("", "lost", "checksum"),
        ("50 05 : crc=1c YES\n", "lost", "no temperature"),
        (None, "lost", "cannot be read"),
    ],
)
def test_what_is_no_value_says_why(tmp_path, text, kind, why):
    """A loose wire, a sensor that does not measure, one that is gone."""
    found = w1(tmp_path, text)
    assert isinstance(found, Fault) and found.kind == kind and why in found.why


def test_a_chip_is_found_by_its_drivers_name(tmp_path):
    """Its number changes from start to start."""
    for number, name in enumerate(("coretemp", "jc42")):
        (tmp_path / f"hwmon{number}").mkdir()
        (tmp_path / f"hwmon{number}" / "name").write_text(f"{name}\n")
        (tmp_path / f"hwmon{number}" / "temp1_input").write_text(f"{20000 + number}\n")
    found = value_of(Probe("p", "hwmon", "fir", None, str(tmp_path), {"chip": "jc42"}), NOW)
    assert isinstance(found, Sample) and found.celsius == 20.001
    assert isinstance(value_of(Probe("p", "hwmon", "fir", None, str(tmp_path), {"chip": "no"}), NOW), Fault)


def test_raw_channels_are_offset_and_scaled(tmp_path):
    """(raw + offset) * scale, in thousandths; a processed channel goes first."""
    folder = tmp_path / "iio:device0"
    folder.mkdir()
    for name, text in (("name", "hts221"), ("in_temp_raw", "400"), ("in_temp_scale", "10"), ("in_temp_offset", "1650")):
        (folder / name).write_text(text)
    probe = Probe("p", "iio", None, "cellar", str(tmp_path), {"chip": "hts221"})
    assert value_of(probe, NOW).celsius == 20.5
    (folder / "in_temp_input").write_text("19250")
    assert value_of(probe, NOW).celsius == 19.25
