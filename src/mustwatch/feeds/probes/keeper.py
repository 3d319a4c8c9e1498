"""From values to events: each probe's health and means, the spool before the ledger, and what is live now."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from mustwatch.feeds.probes.average import DAY, Averager, Line
from mustwatch.feeds.probes.config import Probe
from mustwatch.feeds.probes.health import WELL, Health, Told
from mustwatch.feeds.probes.live import leave, live
from mustwatch.feeds.probes.sample import Fault, Sample
from mustwatch.feeds.probes.spool import Spool
from mustwatch.ledger.codec import Unreadable, parse
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import Event
from mustwatch.ledger.store import Ledger, NotSaved
from mustwatch.said.live import Live

OF_A_PROBE = re.compile(rb'"probe":"([a-z0-9-]{1,40})"')


@dataclass(slots=True)
class Station:
    """One probe as it is kept: its health, its means, and its newest value."""

    probe: Probe
    health: Health
    averager: Averager
    newest: Sample | None = None
    why: str = ""


@dataclass(slots=True)
class Keeper:
    """All probes of a cellar. say: where a line for the user goes; ready after `start`.

    Nothing is taken for safe before it is: a value in the spool, a line in the ledger.
    """

    ledger: Ledger
    folder: Path
    say: Callable[[str], None]
    stations: dict[str, Station] = field(default_factory=dict)
    due: list[Event] = field(default_factory=list)
    troubled: bool = False
    spool: Spool = field(init=False)

    def __post_init__(self) -> None:
        self.spool = Spool(self.folder / "spool.jsonl")

    def start(self, probes: Iterable[Probe], now: datetime) -> None:
        """Takes up where the ledger and the spool end."""
        self.spool.open()
        for probe in probes:
            self.stations[probe.name] = Station(probe, Health(probe, now), Averager(probe.bands))
        self._from_ledger()
        self._from_before(now)
        for name, waiting in list(self.spool.waiting.items()):
            station = self.stations.get(name)
            if station is None:
                continue
            last = station.averager.last
            again = [sample for sample in waiting if last is None or sample.at > last.at]
            self.spool.waiting[name] = list(again)
            for sample in again:
                self._average(station, sample)
                station.newest = sample

    def take(self, name: str, found: Sample | Fault, now: datetime, durable: bool = False) -> None:
        """One value or fault of a probe. Raises OSError where a durable value could not be kept."""
        station = self.stations[name]
        sample, told = station.health.look(found, now)
        if told:
            self._tell(station, told)
        if sample is None:
            return
        try:
            counted = self.spool.add(name, sample, durable)
        except OSError as why:
            if durable:
                raise
            self._say_trouble(f"not kept: {why.strerror or why}")
            return
        if counted is not None:
            station.newest = sample
            self._average(station, counted)

    def tick(self, now: datetime) -> bool:
        """Looks for silent probes and brings to the ledger what is due; whether anything was written there."""
        for station in self.stations.values():
            if told := station.health.quiet(now):
                self._tell(station, told)
        wrote = self._flush(now)
        leave(self.folder, self._live(), now)
        return wrote

    def _average(self, station: Station, sample: Sample) -> None:
        line = station.averager.take(sample)
        if line is not None:
            self.due.append(event_of(station.probe, line))

    def _tell(self, station: Station, told: Told) -> None:
        station.why = told.why
        name, probe = station.probe.name, station.probe
        self.say(f"probe {name}: {told.state}{f', {told.why}' if told.why else ''}")
        self.due.append(
            draft("probed", told.since.astimezone(), probe.batch, probe=name, state=told.state, place=probe.place,
                  why=told.why or None)
        )  # fmt: skip

    def _flush(self, now: datetime) -> bool:
        if not self.due:
            return False
        try:
            self.ledger.append(self.due, now)
        except NotSaved as why:
            self._say_trouble(f"{why}; the values wait")
            return False
        if self.troubled:
            self.say("saving works again")
        self.troubled = False
        until: dict[str, datetime] = {}
        for event in self.due:
            if event.kind == "read":
                until[getattr(event, "probe")] = event.at  # noqa: B009  a key that only events of probes have
        self.due.clear()
        self.spool.told(until)
        return True

    def _say_trouble(self, text: str) -> None:
        """Says a trouble with the disk once, until saving works again."""
        if not self.troubled:
            self.say(text)
        self.troubled = True

    def _from_ledger(self) -> None:
        """The last line of each probe, when it wrote in the day before, and its last state."""
        left = set(self.stations)
        states: set[str] = set()
        for line in self.ledger.own_lines_backwards():
            found = OF_A_PROBE.search(line)
            name = found[1].decode() if found else ""
            if name not in self.stations:
                continue
            try:
                event = parse(line)
            except Unreadable:
                continue
            station = self.stations[name]
            if event.kind == "probed" and name not in states:
                states.add(name)
                station.health.state, station.why = getattr(event, "state", WELL), getattr(event, "why", "") or ""
            elif event.kind == "read":
                self._restore(station, event, left)
            if not left:
                break

    def _from_before(self, now: datetime) -> None:
        """What another name of this device wrote of a probe, and since when each shows the very same value."""
        unknown = {name for name, each in self.stations.items() if each.averager.last is None}
        if unknown & set(self.spool.waiting):
            for _, line in self.ledger.lines():
                found = OF_A_PROBE.search(line)
                if found and found[1].decode() in unknown and b'"kind":"read"' in line:
                    self.stations[found[1].decode()].averager.last = None
                    self._restore(self.stations[found[1].decode()], parse(line), set())
        for value in live(self.folder, now):
            if value.probe in self.stations and value.since:
                self.stations[value.probe].health.same = ((value.celsius, value.gravity), value.since)

    def _restore(self, station: Station, event: Event, left: set[str]) -> None:
        """One line of a probe, newest first; a probe is done when a line is more than a day older than its last."""
        last = station.averager.last
        if last is None:
            gravity = getattr(event, "gravity", None)
            celsius = getattr(event, "must_c", None)
            celsius = getattr(event, "air_c", None) if celsius is None else celsius
            station.averager.last = Line(event.at, celsius, gravity.value if gravity else None, 0)
            station.averager.recent = [event.at]
            self.spool.since(station.probe.name, event.at)
        elif last.at - event.at < DAY:
            station.averager.recent.insert(0, event.at)
        else:
            left.discard(station.probe.name)

    def _live(self) -> list[Live]:
        """What each probe shows now."""
        return [
            Live(
                each.probe.name,
                each.newest.at if each.newest else None,
                each.newest.celsius if each.newest else None,
                each.newest.gravity if each.newest else None,
                each.probe.batch,
                each.probe.place,
                each.health.state,
                each.health.same[1] if each.health.same else None,
            )
            for each in self.stations.values()
        ]


def event_of(probe: Probe, line: Line) -> Event:
    """The event of a line: the must's temperature of a batch, the air's of a place, a float's gravity."""
    keys: dict[str, object] = {"must_c" if probe.batch else "air_c": line.celsius}
    if line.gravity is not None:
        keys["gravity"] = {"value": line.gravity, "scale": "sg", "instrument": probe.name, "error": probe.noise_sg}
    if probe.place:
        keys["place"] = probe.place
    given = {name: value for name, value in keys.items() if value is not None}
    return draft("read", line.at.astimezone(), probe.batch, **given, probe=probe.name, n=line.count)
