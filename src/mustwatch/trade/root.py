"""Where a curve crosses a level: every formula here that must be run backwards."""

from collections.abc import Callable


def crossing(curve: Callable[[float], float], low: float, high: float, close: float = 1e-9, rounds: int = 60) -> float:
    """The place between low and high where the curve is nought, in the unit of low and high.

    Range: any, the curve of one sign at low and of the other at high; where it is of one sign
    throughout, the end nearer to nought is returned. Errors: none of its own.
    Formula: false position with the Illinois halving, which never leaves the interval.

    >>> crossing(lambda x: x * x - 2.0, 0.0, 2.0)
    1.41421

    Source: Dowell and Jarratt, BIT 11 (1971) 168, from memory.
    """
    at_low, at_high = curve(low), curve(high)
    if at_low * at_high >= 0:
        return low if abs(at_low) <= abs(at_high) else high
    side = 0
    middle = low
    for _ in range(rounds):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        here = curve(middle)
        if abs(here) < close or abs(high - low) < 1e-13:
            break
        if here * at_high > 0:
            high, at_high = middle, here
            at_low = at_low / 2 if side == -1 else at_low
            side = -1
        else:
            low, at_low = middle, here
            at_high = at_high / 2 if side == 1 else at_high
            side = 1
    return middle


def crossing_near(curve: Callable[[float], float], first: float, second: float, close: float = 1e-12) -> float:
    """The place near two guesses where a nearly straight curve is nought, in the unit of the guesses.

    Range: any, for curves so straight that the guesses lead there; the step, not the height, must
    become smaller than close. Errors: none of its own.
    Formula: the secant rule.

    >>> crossing_near(lambda x: x * x - 2.0, 1.0, 1.5)
    1.41421

    Source: textbook.
    """
    at_first, at_second = curve(first), curve(second)
    for _ in range(30):
        if abs(second - first) < close or at_second == at_first:
            break
        third = second - at_second * (second - first) / (at_second - at_first)
        first, at_first, second = second, at_second, third
        at_second = curve(second)
    return second
