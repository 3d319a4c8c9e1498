"""A small plotter: points and lines on a raster of dots, drawn as braille or, where only ASCII shows, as . ' and :"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil, floor

_BRAILLE = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
SPARSE = 4  # of so many dots a shaded band shows one


@dataclass(slots=True)
class Canvas:
    """A raster of `width` by `height` cells, each of several dots; signs lie above the dots.

    x and y run from 0 to 1, from left to right and from the bottom up.
    """

    width: int
    height: int
    ascii_only: bool = False
    _dots: dict[tuple[int, int], tuple[int, str]] = field(default_factory=dict)
    _signs: dict[tuple[int, int], tuple[str, str]] = field(default_factory=dict)

    @property
    def _cell(self) -> tuple[int, int]:
        return (1, 2) if self.ascii_only else (2, 4)

    def _spot(self, x: float, y: float) -> tuple[int, int]:
        across, down = self._cell
        return round(x * (self.width * across - 1)), round((1 - y) * (self.height * down - 1))

    def dot(self, x: float, y: float, role: str = "") -> None:
        """One dot; outside the raster nothing is drawn."""
        if 0 <= x <= 1 and 0 <= y <= 1:
            self._put(*self._spot(x, y), role)

    def line(self, start: tuple[float, float], end: tuple[float, float], role: str = "", every: int = 1) -> None:
        """A straight line of dots, only each `every`-th drawn."""
        (left, top), (right, bottom) = self._spot(*start), self._spot(*end)
        steps = max(abs(right - left), abs(bottom - top), 1)
        for step in range(0, steps + 1, every):
            part = step / steps
            self._put(round(left + (right - left) * part), round(top + (bottom - top) * part), role)

    def band(self, low: Sequence[tuple[float, float]], high: Sequence[tuple[float, float]], role: str = "") -> None:
        """A lightly shaded band between two lines given by points with the same x, from left to right."""
        across = self._cell[0]
        last = self.width * across - 1
        for (left, under), (right, under_next), (_, over), (_, over_next) in zip(
            low, low[1:], high, high[1:], strict=False
        ):
            for column in range(max(0, ceil(left * last)), min(last, floor(right * last)) + 1):
                part = (column / last - left) / (right - left) if right > left else 0.0
                x, foot = column / last, under + (under_next - under) * part
                head = over + (over_next - over) * part
                self._shade(x, max(0.0, foot), min(1.0, head), role)

    def _shade(self, x: float, foot: float, head: float, role: str) -> None:
        if foot > head:
            return
        (column, lowest), (_, highest) = self._spot(x, foot), self._spot(x, head)
        for row in range(highest, lowest + 1):
            if (2 * column + row) % SPARSE == 0:
                self._put(column, row, role)

    def sign(self, x: float, y: float, char: str, role: str = "") -> None:
        """One character in the cell of a point."""
        if 0 <= x <= 1 and 0 <= y <= 1:
            across, down = self._cell
            column, row = self._spot(x, y)
            self._signs[(column // across, row // down)] = (char, role)

    def _put(self, column: int, row: int, role: str) -> None:
        across, down = self._cell
        cell = (column // across, row // down)
        if not (0 <= cell[0] < self.width and 0 <= cell[1] < self.height):
            return
        bit = 1 << (row % down) if self.ascii_only else _BRAILLE[row % down][column % across]
        bits, known = self._dots.get(cell, (0, role))
        self._dots[cell] = (bits | bit, known)

    def rows(self) -> list[tuple[tuple[str, str], ...]]:
        """The rows of the raster from the top, as pieces of (text, role)."""
        return [tuple(_joined(self._drawn(column, row) for column in range(self.width))) for row in range(self.height)]

    def _drawn(self, column: int, row: int) -> tuple[str, str]:
        if found := self._signs.get((column, row)):
            return found
        bits, role = self._dots.get((column, row), (0, ""))
        if not bits:
            return " ", ""
        return (" '.:"[bits] if self.ascii_only else chr(0x2800 + bits)), role


def _joined(cells) -> list[tuple[str, str]]:
    pieces: list[tuple[str, str]] = []
    for text, role in cells:
        if pieces and pieces[-1][1] == role:
            pieces[-1] = (pieces[-1][0] + text, role)
        else:
            pieces.append((text, role))
    return pieces


def scaled(value: float, low: float, high: float) -> float:
    """Where a value lies between low (0) and high (1)."""
    return (value - low) / (high - low) if high > low else 0.5
