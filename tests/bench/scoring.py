"""Pinball loss, coverage and final error of forecasts on the cut logs, in gravity points, in one process."""

from __future__ import annotations

import statistics
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field

from tests.bench.logs import Log

Band = Callable[[list[float]], list[tuple[float, float, float]]]
QUANTILES = (0.1, 0.5, 0.9)


def pinball(share: float, forecast: float, truth: float) -> float:
    off = truth - forecast
    return max(share * off, (share - 1) * off)


def naive(log: Log, count: int, later: Iterable[tuple[float, float]]) -> Iterator[tuple[float, dict[str, float]]]:
    """(truth, three naive forecasts), SG: last value stays, straight line, exponential decay."""
    (h0, s0, _), (h1, s1, _) = log["readings"][count - 2 : count]
    slope = (s1 - s0) / (h1 - h0)
    for hours, truth in later:
        line = max(0.995, min(s1, s1 + slope * hours))
        f0, f1 = max(s0 - 0.998, 1e-4), max(s1 - 0.998, 1e-4)
        decay = 0.998 + f1 * min(1.0, (f1 / f0) ** (hours / (h1 - h0)))
        yield truth, {"stays": s1, "line": line, "decay": decay}


@dataclass
class Tally:
    """What a set of cuts scored. losses: points; inside: whether a later reading lay in the band."""

    losses: list[float] = field(default_factory=list)
    naive: dict[str, list[float]] = field(default_factory=lambda: {"stays": [], "line": [], "decay": []})
    inside: list[bool] = field(default_factory=list)
    honey: list[bool] = field(default_factory=list)
    final: list[float] = field(default_factory=list)
    final_half: list[float] = field(default_factory=list)

    def add(self, log: Log, count: int, later: list[tuple[float, float]], band: list, final_points: float) -> None:
        """One cut: later readings, the band in points at each of them, and the forecast end in points."""
        truths = naive(log, count, later)
        for (_, truth), (_, forecasts), quantile in zip(later, truths, band, strict=True):
            seen = (truth - 1) * 1000
            self.losses.append(sum(pinball(s, q, seen) for s, q in zip(QUANTILES, quantile, strict=True)) / 3)
            for name, value in forecasts.items():
                self.naive[name].append(sum(pinball(s, (value - 1) * 1000, seen) for s in QUANTILES) / 3)
            hit = quantile[0] - 1 <= seen <= quantile[2] + 1
            self.inside.append(hit)
            if log["kind"] == "mead":
                self.honey.append(hit)
        if log["outcome"] == "finished":
            end = (log["final_sg"] - 1) * 1000
            self.final.append(abs(final_points - end))
            first, last = log["readings"][0][1], log["readings"][count - 1][1]
            if first - last >= (first - log["final_sg"]) / 2:
                self.final_half.append(abs(final_points - end))

    def extend(self, other: Tally) -> None:
        """Adds another tally to this."""
        for name in ("losses", "inside", "honey", "final", "final_half"):
            getattr(self, name).extend(getattr(other, name))
        for name, values in other.naive.items():
            self.naive[name].extend(values)

    @property
    def best_naive(self) -> float:
        return min(statistics.mean(values) for values in self.naive.values())

    @property
    def ratio(self) -> float:
        return statistics.mean(self.losses) / (self.best_naive or float("nan"))

    def summary(self) -> str:
        share = lambda hits: sum(hits) / len(hits) if hits else float("nan")  # noqa: E731
        return (
            f"later readings {len(self.losses)}  pinball {statistics.mean(self.losses):.3f}  ratio {self.ratio:.3f}  "
            f"coverage {share(self.inside):.3f}  honey {share(self.honey):.3f}  "
            f"final {statistics.median(self.final or [0]):.2f}  "
            f"from half-drop {statistics.median(self.final_half or [0]):.2f}"
        )
