"""Is a probe well? Lost, stuck or absurd it gives no readings, and its state is told once. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from mustwatch.feeds.probes.config import Probe
from mustwatch.feeds.probes.sample import Fault, Sample
from mustwatch.said.figures import degrees, gravity

LOWEST_SG, HIGHEST_SG = 0.970, 1.200
WELL = "well"
SOON = 10  # bad values in a row that are told before the time is up


@dataclass(frozen=True, slots=True)
class Told:
    """A probe's state has changed: to `lost`, `stuck`, `absurd` or `well`, since when, and why in words."""

    state: str
    since: datetime
    why: str = ""


@dataclass(slots=True)
class Health:
    """The state of one probe. heard: when a sound value last came in; same: the value it shows, and since when."""

    probe: Probe
    heard: datetime
    state: str = WELL
    same: tuple[tuple[float | None, float | None], datetime] | None = None
    _bad: int = 0
    _since: datetime | None = None

    def look(self, found: Sample | Fault, now: datetime) -> tuple[Sample | None, Told | None]:
        """(the sample where it may be a reading, the change of state where there is one)."""
        fault = found if isinstance(found, Fault) else self._fault_of(found)
        if fault is None:
            assert isinstance(found, Sample)
            self.heard, self._bad, self._since = now, 0, None
            back = self._change(WELL, found.at, "")
            return found, back
        self._bad += 1
        self._since = self._since or fault.at
        lasting = (fault.at - self._since).total_seconds() >= self.probe.lost_s
        if fault.kind == "stuck" and self.same and fault.why.startswith("has shown"):
            return None, self._change("stuck", self.same[1], fault.why)
        told = self._change(fault.kind, self._since, fault.why) if lasting or self._bad >= SOON else None
        return None, told

    def quiet(self, now: datetime) -> Told | None:
        """The change of state where nothing has come for too long."""
        if (now - self.heard).total_seconds() < self.probe.lost_s or self.state != WELL:
            return None
        return self._change("lost", self.heard, "was not heard")

    def _change(self, state: str, since: datetime, why: str) -> Told | None:
        if state == self.state:
            return None
        self.state = state
        return Told(state, since, why)

    def _fault_of(self, sample: Sample) -> Fault | None:
        value = (sample.celsius, sample.gravity)
        if self.same is None or self.same[0] != value:
            self.same = (value, sample.at)
        if sample.celsius is not None and not self.probe.low_c <= sample.celsius <= self.probe.high_c:
            span = f"{degrees(self.probe.low_c)} to {degrees(self.probe.high_c)}"
            return Fault(sample.at, "absurd", f"shows {degrees(sample.celsius)}; expected {span}")
        if sample.gravity is not None and not LOWEST_SG <= sample.gravity <= HIGHEST_SG:
            return Fault(sample.at, "absurd", f"shows a gravity of {gravity(sample.gravity)}, which no must has")
        if (sample.at - self.same[1]).total_seconds() >= self.probe.stuck_s:
            days = (sample.at - self.same[1]).total_seconds() / 86400
            return Fault(sample.at, "stuck", f"has shown the very same value for {days:.1f} days")
        return None
