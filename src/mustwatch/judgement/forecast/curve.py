"""The closed form of a fermentation: lag, rate, shape and end.

The way still to go falls as  h(u) = (1 + q k u)^(-1/q),  with  u(t) = (t^3 + L^3)^(1/3) - L.
u is time without the lag L; k is the share of the way gone in a day; q bends the tail: below 0 it ends
sharply, 0 is an exponential, above 0 it drags on. Gravity is  end + (start - end) h.
"""

from collections.abc import Sequence
from math import exp, log

NEARLY_EXPONENTIAL = 1e-4


def way_to_go(days: Sequence[float], lag: float, rate: float, shape: float) -> list[float]:
    """The share of the way from start to end still to go at each time, 1 to 0.

    days: since the start; lag: days; rate: a day; shape: -1 to 2.

    >>> [round(h, 3) for h in way_to_go([0.0, 5.0, 20.0], 1.0, 0.3, 0.0)]
    [1.0, 0.3, 0.003]
    """
    cube = lag * lag * lag
    reached = [(day * day * day + cube) ** (1 / 3) - lag if day > 0 else 0.0 for day in days]
    if -NEARLY_EXPONENTIAL < shape < NEARLY_EXPONENTIAL:
        return [exp(-rate * u) for u in reached]
    bend, power = shape * rate, -1 / shape
    if shape > 0:
        return [(1 + bend * u) ** power for u in reached]
    return [base**power if (base := 1 + bend * u) > 0 else 0.0 for u in reached]


def misses(
    cubes: Sequence[tuple[float, float, float]], course: tuple[float, float, float, float, float], freedom: float
) -> float:
    """The product of 1 + square / freedom over readings, of how far each lies off a course in its own errors.

    cubes: for each reading the cube of its days, its points and its error; course: rate, lag, shape, end, start.
    The same curve as `way_to_go`, in one loop: it is asked some hundreds of times for one forecast.
    """
    rate, lag, shape, end, start = course
    cube, drop, product = lag * lag * lag, start - end, 1.0
    bend = 0.0 if -NEARLY_EXPONENTIAL < shape < NEARLY_EXPONENTIAL else shape * rate
    power = -1 / shape if bend else 0.0
    for days, seen, error in cubes:
        reached = (days + cube) ** (1 / 3) - lag if days > 0 else 0.0
        if bend:
            base = 1 + bend * reached
            way = base**power if base > 0 else 0.0
        else:
            way = exp(-rate * reached)
        off = (seen - end - drop * way) / error
        product *= 1 + off * off / freedom
    return product


def day_when(share: float, lag: float, rate: float, shape: float) -> float:
    """The day at which only `share` of the way is left; 0 < share <= 1.

    >>> day_when(0.3, 1.0, 0.3, 0.0)
    5.0
    """
    if -NEARLY_EXPONENTIAL < shape < NEARLY_EXPONENTIAL:
        reached = -log(share) / rate
    else:
        reached = (share ** (-shape) - 1) / (shape * rate)
    ahead = reached + lag
    return max(0.0, ahead * ahead * ahead - lag * lag * lag) ** (1 / 3)
