"""How long one evaluation of each calculation takes, in units of a fixed piece of arithmetic.

Run by hand: python -m pytest tests/bench/test_trade_speed.py -s. A ratio travels between machines
better than milliseconds; on the one this was written on the yardstick takes about a tenth of one.
"""

from collections.abc import Callable
from itertools import count
from timeit import repeat

import pytest

from mustwatch.trade.blend import Lot, blend, sweeten_to
from mustwatch.trade.ethanol import density_from_abv
from mustwatch.trade.gravity import brix_from_sg, sg_from_brix
from mustwatch.trade.honey import honey_for_strength
from mustwatch.trade.must import Part, mixed
from mustwatch.trade.refract import refracted, strength_from_both
from mustwatch.trade.strength import alcohol_range, attenuation, expected_end
from mustwatch.trade.temperature import corrected_sg, corrected_sg_with_alcohol
from mustwatch.trade.units import parse_gravity, parse_volume_l

fresh = count(1)


def other() -> float:
    """A tiny new number each time, so that nothing answers from memory."""
    return next(fresh) * 1e-9


def yardstick() -> float:
    """Some thousand multiplications in plain Python."""
    total = 0.0
    for step in range(1000):
        total = total * 0.999 + step
    return total


CALCULATIONS: dict[str, Callable[[], object]] = {
    "brix": lambda: brix_from_sg(1.1 + other()),
    "gravity": lambda: sg_from_brix(24 + other()),
    "ethanol": lambda: density_from_abv(12 + other(), 25),
    "correct": lambda: corrected_sg(1.05 + other(), 28),
    "correct with alcohol": lambda: corrected_sg_with_alcohol(1.0 + other(), 28, 20, 12),
    "strength": lambda: alcohol_range(1.1 + other(), 1.01),
    "attenuation": lambda: attenuation(1.1 + other(), 1.01),
    "expected end": lambda: expected_end(1.1 + other(), 13, 15),
    "refract": lambda: refracted(1.1 + other(), 12),
    "both instruments": lambda: strength_from_both(12, 1.014 + other()),
    "must": lambda: mixed([Part("honey", 1.5, 82.8, 17.2)], final_l=4.5 + other()),
    "honey": lambda: honey_for_strength(12 + other(), 4.5),
    "blend": lambda: blend([Lot(3, 1.0, 14 + other()), Lot(1, 1.04, 10)]),
    "sweeten": lambda: sweeten_to(Lot(4.5, 0.998, 13 + other()), 1.015),
    "volume": lambda: parse_volume_l("5 US gal"),
    "scale": lambda: parse_gravity("1,042"),
}


def seconds(call: Callable[[], object], number: int) -> float:
    """The best of five runs, a call."""
    return min(repeat(call, number=number, repeat=5)) / number


@pytest.mark.parametrize("name", CALCULATIONS)
def test_one_evaluation_is_a_few_yardsticks(name):
    """Under 20 yardsticks and, where the yardstick itself is under 0.1 ms, under 1 ms."""
    unit = seconds(yardstick, 50)
    taken = seconds(CALCULATIONS[name], 20)
    print(f"{name}: {taken * 1000:.3f} ms, {taken / unit:.1f} yardsticks of {unit * 1000:.3f} ms")
    assert taken / unit < 20
    assert taken < 0.001 or unit > 0.0001
