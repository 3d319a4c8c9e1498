"""The gravity scales against their published curves."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.gravity import (
    brix_from_sg,
    density_from_sg,
    plato_from_sg,
    points,
    sg_from_brix,
    sg_from_density,
    sg_from_plato,
    sugar_g_per_l_from_sg,
)
from mustwatch.trade.sugar import sugar_solution_density

# NBS Circular C440 by its cubic fit: Brix, specific gravity 20/20 in air.
NBS = [
    (1, 1.00390), (3, 1.01173), (5, 1.01968), (7, 1.02773), (9, 1.03590), (11, 1.04418),
    (13, 1.05259), (15, 1.06111), (17, 1.06976), (19, 1.07854), (21, 1.08744), (23, 1.09647),
    (25, 1.10563), (27, 1.11493), (29, 1.12436), (31, 1.13394), (33, 1.14365), (35, 1.15350),
    (37, 1.16349), (39, 1.17362), (40, 1.17874),
]  # fmt: skip

# ASBC polynomial: degrees Plato, specific gravity 20/20.
ASBC = [
    (2, 1.00780), (5, 1.01968), (8, 1.03180), (12, 1.04837), (15, 1.06111), (18, 1.07413),
    (22, 1.09195),
]  # fmt: skip

# One-parameter form P = 260.4 - 260.4/S (Buhl): Plato, specific gravity; it strays above 20.
BUHL = [
    (5, 1.01958), (15, 1.06112), (25, 1.10620),
]  # fmt: skip


@pytest.mark.parametrize(("brix", "printed"), NBS)
def test_brix_is_the_nbs_scale(brix, printed):
    """Both ways: 1e-5 in gravity, and well within the bar of 0.01 Brix."""
    assert sg_from_brix(brix) == pytest.approx(printed, abs=6e-6)
    assert brix_from_sg(printed) == pytest.approx(brix, abs=0.003)


@pytest.mark.parametrize(("plato", "printed"), ASBC)
def test_plato_meets_the_brewers_curve_up_to_22(plato, printed):
    """Two committees, one sugar: 1.5e-5, their own distance at 22."""
    assert sg_from_plato(plato) == pytest.approx(printed, abs=1.5e-5)


@pytest.mark.parametrize(("plato", "printed"), BUHL)
def test_plato_is_near_the_short_form(plato, printed):
    """The short form is within 1e-4 to 15 and 6e-4 at 25: a loose check on us, a close one on it."""
    assert sg_from_plato(plato) == pytest.approx(printed, abs=1.1e-4 if plato <= 20 else 6e-4)


@pytest.mark.parametrize("brix", range(0, 80, 2))
def test_the_two_sources_of_density_agree(brix):
    """NBS and ICUMSA, weighed in air: 2e-4 apart at most, joined without a step at 40."""
    assert sg_from_brix(brix) == pytest.approx(sg_from_density(sugar_solution_density(brix)), abs=2e-4)


def test_there_is_no_step_where_the_curves_meet():
    """A must at 40 Brix is a real one."""
    assert brix_from_sg(sg_from_brix(40.0001)) == pytest.approx(40.0001, abs=1e-6)
    assert sg_from_brix(40.0001) - sg_from_brix(39.9999) == pytest.approx(1e-6, abs=2e-7)


@given(st.floats(-10, 79))
def test_brix_goes_there_and_back(brix):
    """No digit is lost on the way."""
    assert brix_from_sg(sg_from_brix(brix)) == pytest.approx(brix, abs=1e-6)


@given(st.floats(0.961, 1.407))
def test_a_heavier_must_holds_more_sugar(sg):
    """On every scale, over the whole range, also across the joins."""
    for scale in (brix_from_sg, plato_from_sg, density_from_sg, sugar_g_per_l_from_sg, points):
        assert scale(sg + 0.0005) > scale(sg)


@given(st.floats(0.96, 1.46))
def test_density_goes_there_and_back(sg):
    """The weight of air comes off and goes on again."""
    assert sg_from_density(density_from_sg(sg)) == pytest.approx(sg, abs=1e-12)


def test_a_litre_of_must_weighs_its_sugar_and_water():
    """Sucrose at 20 % in ICUMSA's density holds 216.2 g/L; NBS may differ by a hair."""
    assert sugar_g_per_l_from_sg(sg_from_brix(20)) == pytest.approx(0.20 * 1080.977, abs=0.02)


@pytest.mark.parametrize("call", [lambda: brix_from_sg(0.95), lambda: sg_from_brix(80), lambda: points(2.0)])
def test_out_of_range_is_told_in_one_line(call):
    """Always with the range, so that a slipped digit shows."""
    with pytest.raises(ValueError, match=r"^[^\n]+ must be [^\n]+ to [^\n]+, got [^\n]+$"):
        call()
