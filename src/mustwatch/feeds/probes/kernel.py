"""Temperatures the Linux kernel shows as files: the 1-wire bus, hwmon and iio.

Sources: the kernel's Documentation/w1/slaves/w1_therm.rst, Documentation/hwmon/sysfs-interface.rst and
Documentation/ABI/testing/sysfs-bus-iio (from memory).
"""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

from mustwatch.feeds.probes.config import Probe
from mustwatch.feeds.probes.sample import Fault, Sample

POWER_ON_C = 85.0  # what a 1-wire sensor shows when it was switched on and has not measured yet
LARGEST_FILE = 4096
W1_VALUE = re.compile(r"\bt=(-?\d{1,6})\b")


def value_of(probe: Probe, now: datetime) -> Sample | Fault:
    """What a probe of the kernel's shows at this moment."""
    try:
        found = {"w1": _w1, "hwmon": _hwmon, "iio": _iio}[probe.source](probe, now)
    except (OSError, ValueError) as why:
        reason = why.strerror if isinstance(why, OSError) and why.strerror else str(why)
        return Fault(now, "lost", f"cannot be read ({reason})")
    return found if isinstance(found, Fault) else Sample(now, celsius=found + probe.offset_c)


def _w1(probe: Probe, now: datetime) -> float | Fault:
    text = _text(Path(probe.root) / probe.where["id"] / "w1_slave")
    found = W1_VALUE.search(text)
    if "YES" not in text.splitlines()[0] if text else True:
        return Fault(now, "lost", "has a wrong checksum (a loose wire, or a bus too long)")
    if found is None:
        raise ValueError("no temperature in it")
    celsius = int(found[1]) / 1000
    if celsius == POWER_ON_C:
        return Fault(now, "stuck", "shows 85 °C, as after switching on, and does not measure (weak supply?)")
    return celsius


def _hwmon(probe: Probe, now: datetime) -> float | Fault:
    folder = _device(probe, "hwmon*")
    return int(_text(folder / probe.where.get("input", "temp1_input"))) / 1000


def _iio(probe: Probe, now: datetime) -> float | Fault:
    """Processed values are in thousandths of a degree; raw ones become so by (raw + offset) * scale."""
    folder, channel = _device(probe, "iio:device*"), probe.where.get("channel", "in_temp")
    processed = folder / f"{channel}_input"
    if processed.exists():
        return float(_text(processed)) / 1000
    raw, scale = float(_text(folder / f"{channel}_raw")), float(_text(folder / f"{channel}_scale"))
    offset = folder / f"{channel}_offset"
    return (raw + (float(_text(offset)) if offset.exists() else 0.0)) * scale / 1000


def _device(probe: Probe, pattern: str) -> Path:
    """The folder of the chip by its driver's name, for the numbers change from start to start."""
    for folder in sorted(Path(probe.root).glob(pattern)):
        if (folder / "name").exists() and _text(folder / "name") == probe.where["chip"]:
            return folder
    raise ValueError(f"no chip {probe.where['chip']!r} under {probe.root}")


def _text(path: Path) -> str:
    with path.open("rb") as file:
        return file.read(LARGEST_FILE).decode("ascii", "replace").strip()
