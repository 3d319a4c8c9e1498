"""Normals in five numbers: drawn from, and asked how dense they are at a row."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

WIDTH = 5
Row = tuple[float, ...]
Square = list[list[float]]


def square_of(row: Row) -> float:
    """The sum of the squares of five numbers."""
    a, b, c, d, e = row
    return a * a + b * b + c * c + d * d + e * e


@dataclass(frozen=True, slots=True)
class Gaussian:
    """A normal: its centre, and the lower triangle (by rows) that makes it from standard normals."""

    centre: Row
    triangle: Row
    log_size: float

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

    def log_density(self, row: Row) -> float:
        """Logarithm of the density at a row, but for a constant all normals share."""
        v, w, x, y, z = row
        k, l, m, n, o = self.centre  # noqa: E741
        t0, t1, t2, t3, t4, t5, t6, t7, t8, t9, t10, t11, t12, t13, t14 = self.triangle
        a = (v - k) / t0
        b = (w - l - t1 * a) / t2
        c = (x - m - t3 * a - t4 * b) / t5
        d = (y - n - t6 * a - t7 * b - t8 * c) / t9
        e = (z - o - t10 * a - t11 * b - t12 * c - t13 * d) / t14
        return -0.5 * (a * a + b * b + c * c + d * d + e * e) - self.log_size


def gaussian_of(centre: Row, spread: Square) -> Gaussian:
    """The normal of this centre and covariance, both rounded: what differs between two machines in the last
    digit of an exponential must not steer where courses are drawn."""
    lower = triangle_of([[round(cell, 6) for cell in line] for line in spread])
    rows = tuple(value for row, line in enumerate(lower) for value in line[: row + 1])
    return Gaussian(tuple(round(z, 4) for z in centre), rows, sum(log(lower[place][place]) for place in range(WIDTH)))


def wide_gaussian(width: float) -> Gaussian:
    """The normal around nought with this deviation every way."""
    return gaussian_of(
        (0.0,) * WIDTH, [[width * width if row == col else 0.0 for col in range(WIDTH)] for row in range(WIDTH)]
    )


def triangle_of(spread: Square) -> Square:
    """The lower triangle whose square is this spread (Cholesky)."""
    lower = [[0.0] * WIDTH for _ in range(WIDTH)]
    for row in range(WIDTH):
        for column in range(row + 1):
            rest = spread[row][column] - sum(lower[row][k] * lower[column][k] for k in range(column))
            lower[row][column] = sqrt(max(rest, 1e-8)) if row == column else rest / lower[column][column]
    return lower


def solved(lower: Square, right: Sequence[float]) -> list[float]:
    """x where (lower times its mirror) x = right."""
    down: list[float] = []
    for row in range(WIDTH):
        down.append((right[row] - sum(lower[row][k] * down[k] for k in range(row))) / lower[row][row])
    up = [0.0] * WIDTH
    for row in range(WIDTH - 1, -1, -1):
        up[row] = (down[row] - sum(lower[k][row] * up[k] for k in range(row + 1, WIDTH))) / lower[row][row]
    return up


def inverse_of(square: Square) -> Square:
    """The inverse of a symmetric square with positive ends."""
    lower = triangle_of(square)
    return [solved(lower, [1.0 if row == column else 0.0 for row in range(WIDTH)]) for column in range(WIDTH)]


def moments(rows: Sequence[Row], weights: Sequence[float], widened: float) -> Gaussian:
    """The normal with the weighted mean and so many times the weighted spread of these rows."""
    used = [(row, weight) for row, weight in zip(rows, weights, strict=True) if weight > 1e-4]
    total = sum(weight for _, weight in used)
    centre = tuple(sum(weight * row[place] for row, weight in used) / total for place in range(WIDTH))
    spread = [[0.0] * WIDTH for _ in range(WIDTH)]
    for first in range(WIDTH):
        for second in range(first + 1):
            m, n = centre[first], centre[second]
            spread[first][second] = sum(w * (row[first] - m) * (row[second] - n) for row, w in used) / total * widened
    for place in range(WIDTH):
        spread[place][place] += 0.0005
    return gaussian_of(centre, spread)


def mixed_log_density(row: Row, parts: Sequence[tuple[float, Gaussian]]) -> float:
    """Logarithm of the density of a mixture, (logarithm of its share, normal) each."""
    logs = [share + part.log_density(row) for share, part in parts]
    top = max(logs)
    total = 0.0
    for value in logs:
        if value > top - 20:  # below it a part adds less than rounding does
            total += exp(value - top)
    return top + log(total)
