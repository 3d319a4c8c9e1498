"""Many possible courses of one batch, each weighed by how well it meets the readings.

Adaptive importance sampling in the space of five standard normal numbers: rate, lag, shape, end and start.
Each round draws from a normal fitted to the round before, with a share of wide draws kept, so that no other
explanation is lost; the weights are prior times likelihood over proposal. The draws come from a fixed table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

from mustwatch.outlook.curve import way_to_go
from mustwatch.outlook.draws import spread_normals
from mustwatch.outlook.prior import Prior

WIDTH = 5
DRAWS = 240
ROUNDS = 4
WIDE_SHARE = 0.2
WIDE = 1.3
EVEN_ENOUGH = 40.0  # draws that must carry weight before a round is narrowed to them

Row = tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Course:
    """One possible course. rate: share of the way a day; lag: days; end, start: points; weight: its share of belief."""

    rate: float
    lag: float
    shape: float
    end: float
    start: float
    weight: float

    def gravities(self, days: Sequence[float]) -> list[float]:
        """Gravity in points at these days since the start."""
        drop = self.start - self.end
        return [self.end + drop * h for h in way_to_go(days, self.lag, self.rate, self.shape)]


@dataclass(frozen=True, slots=True)
class Evidence:
    """The readings of one course: days since its start, points, and the error each is taken with."""

    days: tuple[float, ...]
    gravities: tuple[float, ...]
    errors: tuple[float, ...]


def courses_of(prior: Prior, evidence: Evidence) -> list[Course]:
    """The possible courses, weights summing to 1."""
    narrowed: Narrowed | None = None
    rows: list[Row] = []
    weights: list[float] = []
    for turn in range(ROUNDS):
        rows, proposals = _drawn(narrowed, turn)
        logs = [
            _log_likelihood(prior, evidence, row) - 0.5 * _square(row) - proposal
            for row, proposal in zip(rows, proposals, strict=True)
        ]
        weights = _tempered(logs, 1.0 if turn == ROUNDS - 1 else None)
        if turn < ROUNDS - 1:
            narrowed = _moments(rows, weights)
    return [Course(*_parameters(prior, row), weight) for row, weight in zip(rows, weights, strict=True)]


def _drawn(narrowed: Narrowed | None, turn: int) -> tuple[list[Row], list[float]]:
    """The rows of a round, and the logarithm of how densely they were drawn, up to a constant common to all."""
    normals = spread_normals(DRAWS, WIDTH, turn + 1)
    if narrowed is None:
        rows = [(WIDE * a, WIDE * b, WIDE * c, WIDE * d, WIDE * e) for a, b, c, d, e in normals]
        return rows, [-0.5 * _square(normal) for normal in normals]
    rows, proposals = [], []
    share = log((1 - WIDE_SHARE) / WIDE_SHARE) - narrowed.log_size + WIDTH * log(WIDE)
    for place, normal in enumerate(normals):
        if place < DRAWS * WIDE_SHARE:
            a, b, c, d, e = normal
            row = (WIDE * a, WIDE * b, WIDE * c, WIDE * d, WIDE * e)
            within = _square(narrowed.solved(row))
        else:
            row, within = narrowed.placed(normal), _square(normal)
        wide, narrow = -0.5 * _square(row) / (WIDE * WIDE), share - 0.5 * within
        rows.append(row)
        proposals.append(wide + log(1 + exp(narrow - wide)) if narrow < wide + 50 else narrow)
    return rows, proposals


def _square(row: Row) -> float:
    a, b, c, d, e = row
    return a * a + b * b + c * c + d * d + e * e


@dataclass(frozen=True, slots=True)
class Narrowed:
    """A normal in five numbers: its centre, and the lower triangle (by rows) that makes it from standard normals."""

    centre: Row
    triangle: Row

    @property
    def log_size(self) -> float:
        t = self.triangle
        return log(t[0] * t[2] * t[5] * t[9] * t[14])

    def placed(self, normal: Row) -> Row:
        """The row that a standard normal draw stands for."""
        a, b, c, d, e = normal
        m, t = self.centre, self.triangle
        return (
            m[0] + t[0] * a,
            m[1] + t[1] * a + t[2] * b,
            m[2] + t[3] * a + t[4] * b + t[5] * c,
            m[3] + t[6] * a + t[7] * b + t[8] * c + t[9] * d,
            m[4] + t[10] * a + t[11] * b + t[12] * c + t[13] * d + t[14] * e,
        )

    def solved(self, row: Row) -> Row:
        """The standard normal draw that stands for a row."""
        m, t = self.centre, self.triangle
        a = (row[0] - m[0]) / t[0]
        b = (row[1] - m[1] - t[1] * a) / t[2]
        c = (row[2] - m[2] - t[3] * a - t[4] * b) / t[5]
        d = (row[3] - m[3] - t[6] * a - t[7] * b - t[8] * c) / t[9]
        return a, b, c, d, (row[4] - m[4] - t[10] * a - t[11] * b - t[12] * c - t[13] * d) / t[14]


def _tempered(logs: list[float], power: float | None) -> list[float]:
    """Weights of these logarithms, flattened until enough draws carry weight unless a power is given."""
    top = max(logs)
    for trial in (1.0, 0.6, 0.35, 0.2, 0.1, 0.05) if power is None else (power,):
        raw = [exp(max(-700.0, trial * (value - top))) for value in logs]
        total = sum(raw)
        weights = [value / total for value in raw]
        if 1 / sum(weight * weight for weight in weights) >= EVEN_ENOUGH:
            break
    return weights


def _moments(rows: list[Row], weights: list[float]) -> Narrowed:
    """The normal with the weighted mean and a little more than the weighted spread of these rows."""
    used = [(row, weight) for row, weight in zip(rows, weights, strict=True) if weight > 1e-4]
    total = sum(weight for _, weight in used)
    centre = tuple(sum(weight * row[place] for row, weight in used) / total for place in range(WIDTH))
    spread = [[0.0] * WIDTH for _ in range(WIDTH)]
    for first in range(WIDTH):
        for second in range(first + 1):
            m, n = centre[first], centre[second]
            spread[first][second] = sum(w * (row[first] - m) * (row[second] - n) for row, w in used) / total
    for place in range(WIDTH):
        spread[place][place] = spread[place][place] * 1.2 + 0.002
    return Narrowed(centre, tuple(value for row, line in enumerate(_triangle(spread)) for value in line[: row + 1]))


def _triangle(spread: list[list[float]]) -> list[list[float]]:
    """The lower triangle whose square is this spread (Cholesky)."""
    lower = [[0.0] * WIDTH for _ in range(WIDTH)]
    for row in range(WIDTH):
        for column in range(row + 1):
            rest = spread[row][column] - sum(lower[row][k] * lower[column][k] for k in range(column))
            lower[row][column] = sqrt(max(rest, 1e-6)) if row == column else rest / lower[column][column]
    return lower


def _parameters(prior: Prior, row: Row) -> tuple[float, float, float, float, float]:
    """(rate, lag, shape, end, start) of five standard normal numbers."""
    held = prior.beliefs
    log_rate = prior.log_rate + held.rate_spread * row[0]
    with_rate = held.lag_with_rate
    log_lag = prior.log_lag + held.lag_spread * (with_rate * row[0] + sqrt(1 - with_rate * with_rate) * row[1])
    shape = max(-0.9, min(2.0, prior.shape + held.shape_spread * row[2]))
    start = prior.start + prior.start_error * row[4]
    end = prior.end + prior.end_spread * row[3]
    if row[3] > held.stuck_from:
        # Beyond here the end leaves the dry floor: it stands still anywhere up to the start.
        end += (start - end) * min(0.95, (row[3] - held.stuck_from) / held.stuck_reach)
    return exp(max(-6.0, min(1.5, log_rate))), exp(max(-4.0, min(3.0, log_lag))), shape, min(end, start - 0.5), start


def _log_likelihood(prior: Prior, evidence: Evidence, row: Row) -> float:
    rate, lag, shape, end, start = _parameters(prior, row)
    freedom = prior.beliefs.freedom
    drop = start - end
    product = 1.0
    for h, seen, error in zip(
        way_to_go(evidence.days, lag, rate, shape), evidence.gravities, evidence.errors, strict=True
    ):
        off = (seen - end - drop * h) / error
        product *= 1 + min(off * off, 1e12) / freedom
    return -(freedom + 1) / 2 * log(product)
