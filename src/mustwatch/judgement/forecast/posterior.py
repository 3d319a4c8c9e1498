"""Many possible courses of one batch, each weighed by how well it meets the readings.

Importance sampling in the space of five standard normal numbers: rate, lag, shape, end and start. First the
best courses are sought by damped least squares with a heavy-tailed error, once from what is usual and once
from a course that stops high; then draws around them, around what the first draws showed, and a share of wide
ones, so that no other explanation is lost. Weights are prior times likelihood over the mixture drawn from.
The draws come from a fixed table.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

from mustwatch.judgement.forecast.curve import misses, way_to_go
from mustwatch.judgement.forecast.draws import spread_normals
from mustwatch.judgement.forecast.gaussian import (
    WIDTH,
    Gaussian,
    Row,
    gaussian_of,
    inverse_of,
    mixed_log_density,
    moments,
    solved,
    square_of,
    triangle_of,
    wide_gaussian,
)
from mustwatch.judgement.forecast.prior import Prior

ROUNDS = (100, 320)  # draws in each; only the last is weighed
WIDENED = 1.3
WIDE = wide_gaussian(1.25)
SEARCHES: tuple[Row, ...] = ((0.0,) * WIDTH, (-0.3, 0.0, -0.5, 2.2, 0.0))
STEPS = 7
NUDGE = 1e-3
AROUND = 2.5  # the spread drawn around a best course, times what its curvature says
EVEN_ENOUGH = 25.0  # draws that must carry weight before their spread is trusted


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

    @property
    def cubes(self) -> list[tuple[float, float, float]]:
        """For each reading the cube of its days, its points and its error."""
        whole = zip(self.days, self.gravities, self.errors, strict=True)
        return [(day * day * day, points, error) for day, points, error in whole]


def courses_of(prior: Prior, evidence: Evidence) -> list[Course]:
    """The possible courses, weights summing to 1."""
    found = [_best(prior, evidence, start) for start in SEARCHES] if evidence.days else [WIDE]
    parts = _mixture(found, None)
    rows: list[Row] = []
    logs: list[float] = []
    for turn, count in enumerate(ROUNDS):
        rows = _drawn(parts, count, turn + 1)
        logs = _log_weights(prior, evidence, rows, parts)
        if turn + 1 < len(ROUNDS):
            parts = _mixture(found, moments(rows, _tempered(logs), WIDENED))
    weights = _held_down(_even(logs, 1.0))
    return [Course(*_parameters(prior, row), weight) for row, weight in zip(rows, weights, strict=True)]


def _mixture(found: Sequence[Gaussian], shown: Gaussian | None) -> list[tuple[float, Gaussian]]:
    """What is drawn from: a share of wide draws, some around the best courses, most around what draws showed."""
    if shown is None:
        return [(log(0.3), WIDE), *((log(0.7 / len(found)), part) for part in found)]
    return [(log(0.12), WIDE), *((log(0.28 / len(found)), part) for part in found), (log(0.6), shown)]


def _drawn(parts: Sequence[tuple[float, Gaussian]], count: int, seed: int) -> list[Row]:
    """Rows of a mixture, each part giving its share of them."""
    normals = spread_normals(count, WIDTH, seed)
    rows, until, reached = [], 0.0, 0
    for share, part in parts:
        until += exp(share) * count
        while reached < min(count, round(until)):
            rows.append(part.placed(normals[reached]))
            reached += 1
    return rows


def _log_weights(
    prior: Prior, evidence: Evidence, rows: Sequence[Row], parts: Sequence[tuple[float, Gaussian]]
) -> list[float]:
    cubes, freedom = evidence.cubes, prior.beliefs.freedom
    half = (freedom + 1) / 2
    return [
        -half * log(misses(cubes, _parameters(prior, row), freedom))
        - 0.5 * square_of(row)
        - mixed_log_density(row, parts)
        for row in rows
    ]


def _tempered(logs: list[float]) -> list[float]:
    """Weights of these logarithms, flattened until enough draws carry weight."""
    weights: list[float] = []
    for power in (1.0, 0.6, 0.35, 0.2, 0.1, 0.05):
        weights = _even(logs, power)
        if 1 / sum(weight * weight for weight in weights) >= EVEN_ENOUGH:
            break
    return weights


def _even(logs: list[float], power: float) -> list[float]:
    top = max(logs)
    raw = [exp(max(-700.0, power * (value - top))) for value in logs]
    total = sum(raw)
    return [value / total for value in raw]


def _held_down(weights: list[float]) -> list[float]:
    """Weights with none above the root of their number times the mean: a lone draw may not speak for all.

    Source: truncated importance sampling, Ionides, J. Comput. Graph. Stat. 17 (2008) 295; from memory.
    """
    cap = 1 / len(weights) ** 0.5
    held = [min(weight, cap) for weight in weights]
    total = sum(held)
    return [weight / total for weight in held]


def _parameters(prior: Prior, row: Row) -> tuple[float, float, float, float, float]:
    """(rate, lag, shape, end, start) of five standard normal numbers."""
    held = prior.beliefs
    fast, slow_start, bend, high, strong = row
    # A cube beyond the normal: a few ferments are many times slower or faster than usual.
    log_rate = prior.log_rate + held.rate_spread * prior.rough * (fast + held.rate_tail * fast * fast * fast)
    with_rate = held.lag_with_rate
    log_lag = prior.log_lag + held.lag_spread * (with_rate * fast + sqrt(1 - with_rate * with_rate) * slow_start)
    shape = prior.shape + held.shape_spread * bend
    start = prior.start + prior.start_error * strong
    end = prior.end + prior.end_spread * high
    if high > held.stuck_from:
        # Beyond here the end leaves the dry floor: it stands still anywhere up to the start.
        end += (start - end) * min(0.95, (high - held.stuck_from) / held.stuck_reach)
    return (
        exp(-7.0 if log_rate < -7.0 else 1.5 if log_rate > 1.5 else log_rate),
        exp(-4.0 if log_lag < -4.0 else 3.0 if log_lag > 3.0 else log_lag),
        -0.9 if shape < -0.9 else 2.0 if shape > 2.0 else shape,
        end if end < start - 0.5 else start - 0.5,
        start,
    )


def _off(prior: Prior, evidence: Evidence, row: Row) -> list[float]:
    """How far each reading lies off the course, in its own errors."""
    rate, lag, shape, end, start = _parameters(prior, row)
    drop = start - end
    ways = way_to_go(evidence.days, lag, rate, shape)
    return [
        (seen - end - drop * h) / error
        for h, seen, error in zip(ways, evidence.gravities, evidence.errors, strict=True)
    ]


def _log_likelihood(prior: Prior, evidence: Evidence, row: Row) -> float:
    freedom = prior.beliefs.freedom
    # At most 14 readings: the product stays far from the largest float.
    return -(freedom + 1) / 2 * log(misses(evidence.cubes, _parameters(prior, row), freedom))


def _best(prior: Prior, evidence: Evidence, start: Row) -> Gaussian:
    """The most likely course found from here, and how far around it courses are about as likely."""
    freedom = prior.beliefs.freedom
    row, damping = start, 0.1
    off = _off(prior, evidence, row)
    value = _log_likelihood(prior, evidence, row) - 0.5 * square_of(row)
    curvature: list[list[float]] = []
    for _ in range(STEPS):
        curvature, downhill = _slopes(prior, evidence, row, off, freedom)
        damped = [[v * (1 + damping) if r == c else v for c, v in enumerate(line)] for r, line in enumerate(curvature)]
        step = solved(triangle_of(damped), downhill)
        tried = tuple(max(-4.0, min(4.0, z + dz)) for z, dz in zip(row, step, strict=True))
        worth = _log_likelihood(prior, evidence, tried) - 0.5 * square_of(tried)
        if worth <= value:
            damping *= 8
            continue
        settled = worth - value < 0.02
        row, value, damping = tried, worth, damping / 4
        off = _off(prior, evidence, row)
        if settled:
            break
    around = [[AROUND * cell for cell in line] for line in inverse_of(curvature)]
    return gaussian_of(row, around)


def _slopes(
    prior: Prior, evidence: Evidence, row: Row, off: list[float], freedom: float
) -> tuple[list[list[float]], list[float]]:
    """(curvature, downhill direction) of the belief at a row; far-off readings count little."""
    trusts = [(freedom + 1) / (freedom + o * o) for o in off]
    nudged = []
    for place in range(WIDTH):
        moved = tuple(z + NUDGE if n == place else z for n, z in enumerate(row))
        nudged.append([(after - o) / NUDGE for after, o in zip(_off(prior, evidence, moved), off, strict=True)])
    curvature = [
        [
            sum(t * a * b for t, a, b in zip(trusts, nudged[r], nudged[c], strict=True)) + (1.0 if r == c else 0.0)
            for c in range(WIDTH)
        ]
        for r in range(WIDTH)
    ]
    downhill = [-sum(t * a * o for t, a, o in zip(trusts, nudged[r], off, strict=True)) - row[r] for r in range(WIDTH)]
    return curvature, downhill
