"""Standard normal draws from an own seeded generator, the same numbers on every machine."""

from functools import lru_cache
from math import log, sqrt

MODULUS = 2**61 - 1
MULTIPLIER = 437_799_614_237_992_725  # a multiplier for this modulus from L'Ecuyer's tables, from memory
SEED = 20_260_115

# Acklam's rational approximation of the normal quantile, relative error 1.2e-9; from memory, checked in tests.
_A = (-3.969683028665376e01, 2.209460984245205e02, -2.759285104469687e02,
      1.383577518672690e02, -3.066479806614716e01, 2.506628277459239e00)  # fmt: skip
_B = (-5.447609879822406e01, 1.615858368580409e02, -1.556989798598866e02,
      6.680131188771972e01, -1.328068155288572e01)  # fmt: skip
_C = (-7.784894002430293e-03, -3.223964580411365e-01, -2.400758277161838e00,
      -2.549732539343734e00, 4.374664141464968e00, 2.938163982698783e00)  # fmt: skip
_D = (7.784695709041462e-03, 3.224671290700398e-01, 2.445134137142996e00, 3.754408661907416e00)
_TAIL = 0.02425


def normal_quantile(share: float) -> float:
    """The standard normal value below which `share` of all values lie; 0 < share < 1.

    >>> normal_quantile(0.9)
    1.28155
    """
    if not 0 < share < 1:
        raise ValueError(f"a share lies between 0 and 1, got {share}")
    if share < _TAIL:
        return _tail(sqrt(-2 * log(share)))
    if share > 1 - _TAIL:
        return -_tail(sqrt(-2 * log(1 - share)))
    q = share - 0.5
    r = q * q
    top = ((((_A[0] * r + _A[1]) * r + _A[2]) * r + _A[3]) * r + _A[4]) * r + _A[5]
    bottom = ((((_B[0] * r + _B[1]) * r + _B[2]) * r + _B[3]) * r + _B[4]) * r + 1
    return top * q / bottom


def _tail(q: float) -> float:
    top = ((((_C[0] * q + _C[1]) * q + _C[2]) * q + _C[3]) * q + _C[4]) * q + _C[5]
    return top / ((((_D[0] * q + _D[1]) * q + _D[2]) * q + _D[3]) * q + 1)


def uniforms(count: int, seed: int = SEED) -> list[float]:
    """`count` numbers evenly spread over 0 to 1, without either end."""
    state, found = seed % MODULUS or 1, []
    for _ in range(count):
        state = state * MULTIPLIER % MODULUS
        found.append(state / MODULUS)
    return found


@lru_cache(maxsize=32)
def spread_normals(count: int, width: int, seed: int) -> tuple[tuple[float, ...], ...]:
    """`count` rows of `width` standard normal draws, each column stratified, so that few draws cover well."""
    shuffled = []
    for column in range(width):
        keys = uniforms(2 * count, seed * 7919 + 104_729 * (column + 1))
        order = sorted(range(count), key=keys.__getitem__)
        shuffled.append([normal_quantile((place + keys[count + row]) / count) for row, place in enumerate(order)])
    return tuple(zip(*shuffled, strict=True))
