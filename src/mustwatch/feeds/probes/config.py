"""What is to be listened to, from the `[feeds]` table of cellar.toml. Every fault is one line that names the key."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from math import isfinite
from typing import Any

from mustwatch.ledger.events import TAG

NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
SOURCES = ("w1", "hwmon", "iio", "mqtt")
ROOTS = {"w1": "/sys/bus/w1/devices", "hwmon": "/sys/class/hwmon", "iio": "/sys/bus/iio/devices"}
SCALES = ("sg", "brix", "plato")


@dataclass(frozen=True, slots=True)
class Bands:
    """How a probe's values become lines: averaged over so long, written when they moved so far, or after so long."""

    average_s: float
    dead_band_c: float = 0.3
    dead_band_sg: float = 0.002
    longest_s: float = 8 * 3600.0


@dataclass(frozen=True, slots=True)
class Probe:
    """One probe. batch or place: what it is bound to.

    where: what finds it, by source: id; chip and input; chip and channel; topic and the paths inside its messages.
    low_c, high_c: what it can sensibly show; lost_s: silent for so long it is lost; stuck_s: showing one value for
    so long it is stuck; calibration: pairs of (as it shows, as it should be) for its gravity; noise_sg: standard
    deviation of its gravity against a hydrometer's.
    """

    name: str
    source: str
    batch: str | None = None
    place: str | None = None
    root: str = ""
    where: Mapping[str, str] = field(default_factory=dict)
    offset_c: float = 0.0
    fahrenheit: bool = False
    scale: str = "sg"
    calibration: tuple[tuple[float, float], ...] = ()
    noise_sg: float = 0.004
    low_c: float = -20.0
    high_c: float = 50.0
    lost_s: float = 3600.0
    stuck_s: float = 3 * 86400.0
    bands: Bands = Bands(600.0)

    @property
    def floats(self) -> bool:
        """Whether it measures gravity."""
        return "gravity" in self.where


@dataclass(frozen=True, slots=True)
class Broker:
    """Where messages come from. The password is in a file or the environment, never here."""

    host: str
    port: int
    user: str | None = None
    password_file: str | None = None
    tls: bool = False
    ca_file: str | None = None
    version: str = "5"
    client: str = "mustwatch"


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything `listen` does. publish: the prefix of the topics for each batch's state, None for none."""

    probes: tuple[Probe, ...] = ()
    broker: Broker | None = None
    every_s: float = 60.0
    publish: str | None = None
    notify: Mapping[str, Any] = field(default_factory=dict)


def plan_of(feeds: Mapping[str, Any]) -> Plan:
    """What is to be listened to. Raises ValueError with one line naming the key and what would be right."""
    only_known(feeds, {"every_s", "probes", "broker", "publish", "notify"}, "feeds")
    probes = tuple(_probe(name, _table(own, f"feeds.probes.{name}"))
                   for name, own in _table(feeds.get("probes", {}), "feeds.probes").items())  # fmt: skip
    broker = _broker(_table(feeds["broker"], "feeds.broker")) if "broker" in feeds else None
    publish = _table(feeds.get("publish", {}), "feeds.publish")
    only_known(publish, {"prefix"}, "feeds.publish")
    prefix = _text(publish, "feeds.publish", "prefix") if publish else None
    if broker is None and (prefix or any(probe.source == "mqtt" for probe in probes)):
        raise ValueError("cellar.toml: feeds.broker is missing; write [feeds.broker] with host")
    if prefix and (set(prefix) & set("#+$") or prefix.startswith("/")):
        raise ValueError('cellar.toml: feeds.publish.prefix must be a plain topic, such as "mustwatch"')
    every_s = _number(feeds, "feeds", "every_s", 60.0, 1, 3600)
    return Plan(probes, broker, every_s, prefix, _table(feeds.get("notify", {}), "feeds.notify"))


def _probe(name: str, own: Mapping[str, Any]) -> Probe:
    at = f"feeds.probes.{name}"
    source = _text(own, at, "source")
    if not NAME.fullmatch(name):
        raise ValueError(f"cellar.toml: {at}: use small letters, digits and dashes for a probe's name")
    if source not in SOURCES:
        raise ValueError(f"cellar.toml: {at}.source must be one of {', '.join(SOURCES)}")
    keys = {
        "w1": {"id"}, "hwmon": {"chip", "input"}, "iio": {"chip", "channel"},
        "mqtt": {"topic", "temperature", "gravity", "time"},
    }[source]  # fmt: skip
    common = {"source", "batch", "place", "root", "offset_c", "unit", "low_c", "high_c", "lost_min", "stuck_h",
              "average_min", "dead_band_c", "longest_h"}  # fmt: skip
    only_floats = {"scale", "calibration", "noise_sg", "dead_band_sg"} if source == "mqtt" else set()
    only_known(own, common | keys | only_floats, at)
    where = {key: _text(own, at, key) for key in keys if key in own}
    _enough(source, where, at)
    batch, place = _bound(own, where, at)
    floats = "gravity" in where
    scale = own.get("scale", "sg")
    if scale not in SCALES:
        raise ValueError(f"cellar.toml: {at}.scale must be one of {', '.join(SCALES)}")
    return Probe(
        name, source, batch, place,
        _text(own, at, "root") if "root" in own else ROOTS.get(source, ""), where,
        _number(own, at, "offset_c", 0.0, -20, 20), _unit(own, at) == "F", scale, _pairs(own, at),
        _number(own, at, "noise_sg", 0.004, 0.0005, 0.05),
        _number(own, at, "low_c", -20.0, -40, 100), _number(own, at, "high_c", 50.0, 0, 130),
        60 * _number(own, at, "lost_min", 60.0, 1, 10_000), 3600 * _number(own, at, "stuck_h", 72.0, 1, 2000),
        Bands(
            60 * _number(own, at, "average_min", 60.0 if floats else 10.0, 1, 1440),
            _number(own, at, "dead_band_c", 0.3, 0.05, 5), _number(own, at, "dead_band_sg", 0.002, 0.0005, 0.02),
            3600 * _number(own, at, "longest_h", 8.0, 1, 24),
        ),
    )  # fmt: skip


def _bound(own: Mapping[str, Any], where: Mapping[str, str], at: str) -> tuple[str | None, str | None]:
    """The batch or the place that a probe watches."""
    batch, place = own.get("batch"), own.get("place")
    if (batch is None) == (place is None):
        raise ValueError(f"cellar.toml: {at} must have either batch or place")
    if batch is not None and not (isinstance(batch, str) and TAG.fullmatch(batch)):
        raise ValueError(f"cellar.toml: {at}.batch must be the tag of a batch, such as heather-2")
    if place is not None and "gravity" in where:
        raise ValueError(f"cellar.toml: {at} measures gravity: it must have a batch")
    return batch, None if place is None else _text(own, at, "place")


def _enough(source: str, where: Mapping[str, str], at: str) -> None:
    needed = {"w1": ["id"], "hwmon": ["chip"], "iio": ["chip"], "mqtt": ["topic"]}[source]
    for key in needed:
        if key not in where:
            raise ValueError(f"cellar.toml: {at}.{key} is missing")
    if source == "mqtt" and not {"temperature", "gravity"} & set(where):
        raise ValueError(f'cellar.toml: {at} must say where its value is: temperature = "path" or gravity = "path"')
    if source == "w1" and not re.fullmatch(r"[0-9a-f]{2}-[0-9a-f]{12}", where["id"]):
        raise ValueError(f"cellar.toml: {at}.id must be the name of its folder on the bus, such as 28-0123456789ab")
    if any("/" in where.get(key, "") or where.get(key) == ".." for key in ("input", "channel")):
        raise ValueError(f"cellar.toml: {at}: input and channel are names of files, without a folder")
    if set(where.get("topic", "")) & set("#+"):
        raise ValueError(f"cellar.toml: {at}.topic must be one whole topic, without + and #")


def _broker(own: Mapping[str, Any]) -> Broker:
    at = "feeds.broker"
    only_known(own, {"host", "port", "user", "password_file", "tls", "ca_file", "version", "client"}, at)
    tls = own.get("tls", False)
    if not isinstance(tls, bool):
        raise ValueError(f"cellar.toml: {at}.tls must be true or false")
    version = str(own.get("version", "5"))
    if version not in ("5", "3.1.1"):
        raise ValueError(f'cellar.toml: {at}.version must be "5" or "3.1.1"')
    texts = {key: _text(own, at, key) for key in ("user", "password_file", "ca_file", "client") if key in own}
    port = int(_number(own, at, "port", 8883 if tls else 1883, 1, 65535))
    return Broker(_text(own, at, "host"), port, tls=tls, version=version, **texts)


def only_known(table: Mapping[str, Any], known: set[str], at: str) -> None:
    """Nothing where all keys are known. Raises ValueError naming the first that is not, or that is a secret."""
    for key in table:
        if key in ("password", "token", "url", "urls"):
            raise ValueError(f"cellar.toml: {at}.{key}: no secret belongs in this file; see password_file, urls_file")
        if key not in known:
            raise ValueError(f"cellar.toml: {at}.{key} is not known; known here: {', '.join(sorted(known))}")


def _table(value: Any, at: str) -> Mapping[str, Any]:
    if not isinstance(value, dict):
        raise ValueError(f"cellar.toml: {at} must be a table, such as [{at}]")
    return value


def _text(table: Mapping[str, Any], at: str, key: str) -> str:
    value = table.get(key)
    if not isinstance(value, str) or not value.strip():
        raise ValueError(f"cellar.toml: {at}.{key} must be text in quotes")
    return value.strip()


def _number(table: Mapping[str, Any], at: str, key: str, default: float, low: float, high: float) -> float:
    value = table.get(key, default)
    if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value) or not low <= value <= high:
        raise ValueError(f"cellar.toml: {at}.{key} must be a number from {low:g} to {high:g}")
    return float(value)


def _unit(own: Mapping[str, Any], at: str) -> str:
    unit = own.get("unit", "C")
    if unit not in ("C", "F"):
        raise ValueError(f'cellar.toml: {at}.unit must be "C" or "F"')
    return str(unit)


def _pairs(own: Mapping[str, Any], at: str) -> tuple[tuple[float, float], ...]:
    pairs = own.get("calibration", [])
    sound = isinstance(pairs, list) and all(
        isinstance(pair, list) and len(pair) == 2 and all(type(value) in (int, float) for value in pair)
        for pair in pairs
    )
    if not sound or len(pairs) == 1:
        raise ValueError(f"cellar.toml: {at}.calibration must be pairs [as shown, as it should be], at least two")
    found = sorted((float(shown), float(right)) for shown, right in pairs)
    if len({shown for shown, _ in found}) < len(found):
        raise ValueError(f"cellar.toml: {at}.calibration has one shown value twice")
    return tuple(found)
