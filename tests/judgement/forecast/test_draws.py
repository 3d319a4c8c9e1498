"""Draws that are the same everywhere."""

from statistics import NormalDist

import pytest

from mustwatch.judgement.forecast.draws import normal_quantile, spread_normals, uniforms


@pytest.mark.parametrize("share", [0.0005, 0.01, 0.1, 0.4, 0.5, 0.77, 0.98, 0.9999])
def test_the_normal_quantile_agrees_with_the_standard_library(share):
    """Constants were written from memory; the library's own inverse is another algorithm (AS 241)."""
    assert normal_quantile(share) == pytest.approx(NormalDist().inv_cdf(share), rel=2e-9, abs=1e-9)


def test_the_first_numbers_are_those_of_every_machine():
    """Whole-number arithmetic alone makes them; a change here changes every forecast."""
    prime, factor = 2**61 - 1, 437_799_614_237_992_725
    assert uniforms(3, seed=1) == [pow(factor, n, prime) / prime for n in (1, 2, 3)]


def test_every_column_is_spread_evenly():
    """One draw in each slice of equal chance: mean and spread come out right with few draws."""
    for column in zip(*spread_normals(200, 3, 5), strict=True):
        assert sum(column) / 200 == pytest.approx(0.0, abs=0.02)
        assert sum(z * z for z in column) / 200 == pytest.approx(1.0, abs=0.05)
