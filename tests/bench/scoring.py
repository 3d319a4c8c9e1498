"""How good forecasts are on the cut logs, in gravity points, each log with the same weight; in one process."""

from __future__ import annotations

import statistics
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field

from tests.bench.logs import Log

QUANTILES = (0.1, 0.5, 0.9)
NAIVE = ("stays", "line", "decay")
GROUPS: dict[str, Callable[[Row], bool]]


def pinball(share: float, forecast: float, truth: float) -> float:
    """The pinball loss of one percentile."""
    off = truth - forecast
    return max(share * off, (share - 1) * off)


def mean_pinball(band: Iterable[float], truth: float) -> float:
    """The mean pinball loss of the three percentiles shown."""
    return sum(pinball(share, value, truth) for share, value in zip(QUANTILES, band, strict=True)) / 3


def naive(log: Log, count: int, later: Iterable[tuple[float, float]]) -> Iterator[tuple[float, dict[str, float]]]:
    """(truth, three naive forecasts), SG: last value stays, straight line, exponential decay."""
    (h0, s0, _), (h1, s1, _) = log["readings"][count - 2 : count]
    slope = (s1 - s0) / (h1 - h0)
    for hours, truth in later:
        line = max(0.995, min(s1, s1 + slope * hours))
        f0, f1 = max(s0 - 0.998, 1e-4), max(s1 - 0.998, 1e-4)
        decay = 0.998 + f1 * min(1.0, (f1 / f0) ** (hours / (h1 - h0)))
        yield truth, {"stays": s1, "line": line, "decay": decay}


@dataclass(frozen=True, slots=True)
class Row:
    """One later reading as forecast at one cut. below, above: it fell outside the band, a point allowed."""

    log: str
    mead: bool
    home: bool
    seen: int
    days_on: float
    loss: float
    naive: dict[str, float]
    below: bool
    above: bool

    @property
    def inside(self) -> bool:
        """Whether it fell inside the band."""
        return not self.below and not self.above


GROUPS = {
    "all": lambda row: True,
    "hobby mead": lambda row: row.home and row.mead,
    "all hobby": lambda row: row.home,
    "laboratory": lambda row: not row.home,
    **{f"{n}{'+' if n == 5 else ''} readings seen": lambda row, n=n: min(row.seen, 5) == n for n in (2, 3, 4, 5)},
}


@dataclass(frozen=True, slots=True)
class ByLog:
    """A group of logs, each with the same weight. ratio: of the loss to the best naive forecast's."""

    logs: int
    readings: int
    loss: float
    best_naive: float
    coverage: float

    @property
    def ratio(self) -> float:
        """How much of the best naive forecast's loss is left."""
        return self.loss / self.best_naive

    def __str__(self) -> str:
        return (
            f"{self.logs:3} logs {self.readings:5} readings  loss {self.loss:5.2f}  of naive {self.ratio:.3f}  "
            f"coverage {self.coverage:.3f}"
        )


@dataclass
class Tally:
    """What a set of cuts scored. final: points off the end, of finished logs, from the third reading on."""

    rows: list[Row] = field(default_factory=list)
    final: list[float] = field(default_factory=list)

    def add(self, log: Log, count: int, later: list[tuple[float, float]], band: list, final_points: float) -> None:
        """One cut: later readings, the band in points at each of them, and the forecast end in points."""
        home = log["source_kind"] == "hobby log"
        for (hours, truth), (_, forecasts), shown in zip(later, naive(log, count, later), band, strict=True):
            seen = (truth - 1) * 1000
            dull = {name: mean_pinball(3 * [(value - 1) * 1000], seen) for name, value in forecasts.items()}
            below, above = seen < shown[0] - 1, seen > shown[2] + 1
            loss = mean_pinball(shown, seen)
            self.rows.append(Row(log["id"], log["kind"] == "mead", home, count, hours / 24, loss, dull, below, above))
        if log["outcome"] == "finished" and count > 2:
            self.final.append(abs(final_points - (log["final_sg"] - 1) * 1000))

    def extend(self, other: Tally) -> None:
        """Adds another tally to this."""
        self.rows += other.rows
        self.final += other.final

    def by_log(self, chosen: Callable[[Row], bool] = GROUPS["all"]) -> ByLog | None:
        """The group of rows that are chosen, None where there is none."""
        logs: dict[str, list[Row]] = defaultdict(list)
        for row in self.rows:
            if chosen(row):
                logs[row.log].append(row)
        if not logs:
            return None

        def mean(pick: Callable[[Row], float]) -> float:
            return statistics.mean(statistics.mean(pick(row) for row in rows) for rows in logs.values())

        best = min(mean(lambda row, name=name: row.naive[name]) for name in NAIVE)
        readings = sum(len(rows) for rows in logs.values())
        return ByLog(len(logs), readings, mean(lambda row: row.loss), best, mean(lambda row: row.inside))

    def by_reading(self) -> ByLog:
        """Every later reading alike."""
        best = min(statistics.mean(row.naive[name] for row in self.rows) for name in NAIVE)
        loss = statistics.mean(row.loss for row in self.rows)
        inside = statistics.mean(row.inside for row in self.rows)
        return ByLog(len({row.log for row in self.rows}), len(self.rows), loss, best, inside)

    def summary(self) -> str:
        """Every group, a line each."""
        lines = [f"{name:18}{found}" for name, chosen in GROUPS.items() if (found := self.by_log(chosen))]
        final = statistics.median(self.final) if self.final else float("nan")
        return "\n".join([*lines, f"{'over readings':18}{self.by_reading()}", f"end, median error {final:.1f} points"])
