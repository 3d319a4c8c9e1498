"""Alcohol from gravity: our solved mass balance against the same model run forwards."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.gravity import brix_from_sg, sg_from_brix
from mustwatch.trade.strength import (
    abv_by_balling,
    abv_by_points,
    abv_rule_of_thumb,
    alcohol_range,
    attenuation,
    expected_end,
    mass_balance,
    potential_abv,
    residual_sugar_g_per_l,
)
from mustwatch.trade.tabarie import sg_from_alcohol_and_extract, tabarie_sg

# Balling's chain (0.1808, 0.8192), worked by another program: start, present, % vol.
BALLING_CHAIN = [
    (1.04003, 0.998, 5.55), (1.04003, 1.01, 3.97), (1.04837, 0.998, 6.68), (1.04837, 1.01, 5.10),
    (1.06111, 0.99, 9.49), (1.06111, 1.0, 8.15), (1.06111, 1.02, 5.50), (1.07413, 0.998, 10.22),
    (1.07413, 1.01, 8.62), (1.08297, 0.99, 12.53), (1.08297, 1.0, 11.18), (1.08297, 1.02, 8.51),
    (1.09194, 0.998, 12.71), (1.09194, 1.01, 11.10), (1.10563, 0.99, 15.75), (1.10563, 1.0, 14.39),
    (1.10563, 1.02, 11.70), (1.11963, 0.998, 16.68), (1.11963, 1.01, 15.06), (1.12913, 0.99, 19.16),
    (1.12913, 1.0, 17.80), (1.12913, 1.02, 15.08), (1.13877, 0.998, 19.49), (1.13877, 1.01, 17.86),
    (1.15350, 0.99, 22.80), (1.15350, 1.0, 21.42), (1.15350, 1.02, 18.67),
]  # fmt: skip

# Balling yield with Tabarie, OIML and ICUMSA, worked forwards by another program:
# start, present, % vol, % mass, extract % mass.
MASS_BALANCE = [
    (1.04003, 1.00034, 5.16, 4.082, 2), (1.04003, 1.01476, 3.27, 2.551, 5), (1.04003, 1.02970, 1.33, 1.020, 8),
    (1.06111, 0.99589, 8.59, 6.819, 2), (1.06111, 1.01005, 6.70, 5.245, 5), (1.06111, 1.02471, 4.76, 3.672, 8),
    (1.08297, 0.99156, 12.18, 9.713, 2), (1.08297, 1.00550, 10.29, 8.094, 5), (1.08297, 1.01990, 8.35, 6.475, 8),
    (1.10563, 0.98730, 15.96, 12.779, 2), (1.10563, 1.00105, 14.07, 11.112, 5), (1.10563, 1.01523, 12.13, 9.445, 8),
    (1.12913, 0.98297, 19.93, 16.032, 2), (1.12913, 0.99661, 18.04, 14.314, 5), (1.12913, 1.01064, 16.10, 12.596, 8),
    (1.15350, 0.97838, 24.12, 19.489, 2), (1.15350, 0.99201, 22.23, 17.718, 5), (1.15350, 1.00597, 20.29, 15.946, 8),
]  # fmt: skip

# The same samples by the chain and by 131.25.
OTHERS = [
    (1.04003, 1.00034, 5.24, 5.21), (1.04003, 1.01476, 3.34, 3.32), (1.04003, 1.02970, 1.37, 1.36),
    (1.06111, 0.99589, 8.70, 8.56), (1.06111, 1.01005, 6.82, 6.70), (1.06111, 1.02471, 4.87, 4.78),
    (1.08297, 0.99156, 12.32, 12.00), (1.08297, 1.00550, 10.45, 10.17), (1.08297, 1.01990, 8.52, 8.28),
    (1.10563, 0.98730, 16.11, 15.53), (1.10563, 1.00105, 14.25, 13.73), (1.10563, 1.01523, 12.34, 11.87),
    (1.12913, 0.98297, 20.12, 19.18), (1.12913, 0.99661, 18.26, 17.39), (1.12913, 1.01064, 16.35, 15.55),
    (1.15350, 0.97838, 24.40, 22.98), (1.15350, 0.99201, 22.52, 21.19), (1.15350, 1.00597, 20.60, 19.36),
]  # fmt: skip

# OIV-MA-AS2-03B (Tabarie): % vol, d of the residue, density of the wine at 20 °C in g/mL.
TABARIE = [(8, 1.0, 0.98716), (12, 1.0, 0.98235), (14, 1.0, 0.98008), (16, 1.01569, 0.99353)]

# Cutaia, Reid and Speers, J. Inst. Brew. 115 (2009): q = (OE - RE)/(OE - AE), standard error 4.8e-3,
# fitted on 532 beers of 9.4 to 18 Plato.
QUOTIENT = [(12, 0.8243), (16, 0.8278)]

# OIV-MA-AS2-02, Table II, every tenth row: sugar of a grape must g/L, potential alcohol % vol.
POTENTIAL = [
    (82.2, 4.88), (92.8, 5.51), (103.5, 6.15), (114.3, 6.79), (125.2, 7.44), (136.1, 8.08), (147.1, 8.74),
    (158.2, 9.4), (169.4, 10.06), (180.6, 10.73), (191.9, 11.4), (203.3, 12.08), (214.7, 12.75), (226.2, 13.44),
    (237.8, 14.13), (249.5, 14.82), (261.2, 15.52), (273.0, 16.22), (284.9, 16.92), (296.9, 17.64), (308.9, 18.35),
]  # fmt: skip

starts = st.floats(1.02, 1.2)
presents = st.floats(0.97, 1.2)


@pytest.mark.parametrize(("start_sg", "present_sg", "abv", "mass_pct", "extract_pct"), MASS_BALANCE)
def test_mass_balance_finds_the_alcohol_that_was_put_in(start_sg, present_sg, abv, mass_pct, extract_pct):
    """The forward model starts from the extract; solving back must land on it. Gravity has 5 places,
    so 0.005 % vol of doubt is in the figures."""
    found = mass_balance(start_sg, present_sg)
    assert found.abv == pytest.approx(abv, abs=0.01)
    assert found.alcohol_pct_mass == pytest.approx(mass_pct, abs=0.005)
    assert found.extract_pct_mass == pytest.approx(extract_pct, abs=0.01)


@pytest.mark.parametrize(("start_sg", "present_sg", "abv"), BALLING_CHAIN)
def test_balling_chain_is_as_published(start_sg, present_sg, abv):
    """The published relations to a hundredth, kept to be set beside the better way."""
    assert abv_by_balling(start_sg, present_sg) == pytest.approx(abv, abs=0.01)


@pytest.mark.parametrize(("start_sg", "present_sg", "chain", "thumb"), OTHERS)
def test_other_methods_stand_where_they_were_found(start_sg, present_sg, chain, thumb):
    """The spread between methods is what the range is made of."""
    assert abv_by_balling(start_sg, present_sg) == pytest.approx(chain, abs=0.03)
    assert abv_rule_of_thumb(start_sg, present_sg) == pytest.approx(thumb, abs=0.01)


@pytest.mark.parametrize(("abv", "residue_sg", "printed"), TABARIE)
def test_alcohol_and_extract_weigh_together_as_in_the_method(abv, residue_sg, printed):
    """2e-5 g/mL, as the rows are given."""
    assert tabarie_sg(abv, residue_sg) * 0.99820 == pytest.approx(printed, abs=2e-5)


@pytest.mark.parametrize(("start_pct", "printed"), QUOTIENT)
def test_measured_beers_lie_inside_the_range_told(start_pct, printed):
    """Measured, not a model: the mass balance stands 0.02 below the beers' quotient, some 2 % of the
    alcohol, Balling's chain within 0.01. The high end of the range has to cover the beers."""
    start_sg = sg_from_brix(start_pct)
    gone = attenuation(start_sg, 1.010)
    assert printed - gone.real_pct / gone.apparent_pct == pytest.approx(0.021, abs=0.003)
    fallen_pct = printed * (start_pct - brix_from_sg(1.010))
    beer_abv = fallen_pct / (2.0665 - 0.010665 * start_pct) * 1.010 * 0.99820 / 0.78924
    shown = alcohol_range(start_sg, 1.010)
    assert shown.low < beer_abv < shown.high


@given(starts, presents)
def test_every_pair_of_gravities_in_range_gives_an_ordered_range(start_sg, present_sg):
    """Never raises, never negative, low <= best <= high, whatever was misread."""
    shown = alcohol_range(start_sg, present_sg)
    assert 0 <= shown.low <= shown.best <= shown.high


@given(starts, st.floats(0.975, 1.2))
def test_alcohol_grows_as_gravity_falls(start_sg, present_sg):
    """A lower reading can never mean less alcohol."""
    assert mass_balance(start_sg, present_sg - 0.002).abv >= mass_balance(start_sg, present_sg).abv


@given(starts, presents)
def test_mass_is_kept(start_sg, present_sg):
    """The alcohol and extract found weigh together what the sample weighs."""
    found = mass_balance(start_sg, present_sg)
    if present_sg < start_sg and found.abv <= 30 and found.extract_g_per_l > -60:
        assert sg_from_alcohol_and_extract(found.abv, found.extract_g_per_l) == pytest.approx(present_sg, abs=1e-6)


@given(starts, presents, st.floats(0, 100))
def test_sugar_left_is_never_below_nothing(start_sg, present_sg, kept):
    """And what cannot ferment is never counted twice."""
    assert residual_sugar_g_per_l(start_sg, present_sg, kept) >= 0


@given(starts, st.floats(3, 25), st.floats(0, 10))
def test_expected_end_is_an_interval_that_wider_tolerance_widens(start_sg, low_abv, more_abv):
    """Low before high, and a yeast less well known leaves more open."""
    high_abv = min(25.0, low_abv + more_abv)
    low_sg, high_sg = expected_end(start_sg, low_abv, high_abv)
    assert 0.99 <= low_sg <= high_sg
    narrow_low, narrow_high = expected_end(start_sg, high_abv, high_abv)
    assert low_sg == narrow_low and high_sg >= narrow_high


def test_expected_end_is_the_trade_interval():
    """[max(dry low, OG - (tol + 1.5)/131.25), max(dry high, OG - (tol - 1)/131.25)], common practice."""
    assert expected_end(1.110, 14, 14) == pytest.approx((1.110 - 15.5 / 131.25, 1.110 - 13 / 131.25))
    assert expected_end(1.060, 14, 14) == pytest.approx((0.994, 1.000))


def test_a_gravity_that_rose_means_no_alcohol_seen():
    """Sugar was added or a reading is wrong; the balance does not invent a negative strength."""
    assert alcohol_range(1.050, 1.060).best == 0


def test_high_honey_must_is_no_place_for_the_rule_of_thumb():
    """At 1.154 the rule reads about 1 % vol low; the range has to reach up to the mass balance."""
    shown = alcohol_range(1.1535, 0.992)
    assert shown.best - abv_rule_of_thumb(1.1535, 0.992) > 0.9
    assert shown.high >= shown.best and shown.low <= abv_rule_of_thumb(1.1535, 0.992)


@given(starts)
def test_potential_grows_with_the_start(start_sg):
    """More sugar, more alcohol in the end."""
    assert potential_abv(min(1.2, start_sg + 0.002)) >= potential_abv(start_sg)


@pytest.mark.parametrize(
    "call",
    [
        lambda: alcohol_range(1.25, 1.0),
        lambda: alcohol_range(1.1, 0.9),
        lambda: abv_by_points(0.99, 1.0),
        lambda: expected_end(1.1, 15, 12),
        lambda: expected_end(1.1, 1, 12),
        lambda: attenuation(1.0, 1.0),
        lambda: residual_sugar_g_per_l(1.1, 1.0, -1),
        lambda: alcohol_range(float("nan"), 1.0),
    ],
)
def test_out_of_range_is_told_in_one_line(call):
    """With the range named."""
    with pytest.raises(ValueError, match=r"^[^\n]+ must be [^\n]+ to [^\n]+, got [^\n]+$"):
        call()
