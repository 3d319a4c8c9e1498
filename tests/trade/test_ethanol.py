"""Ethanol in water against the official tables."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.ethanol import (
    density_from_abv,
    ethanol_density,
    mass_share_from_abv,
)

# OIML international alcoholometric table at 20 °C: % vol, kg/m³.
OFFICIAL = [
    (10, 984.71), (30, 962.21), (50, 930.14), (70, 885.56), (90, 829.18), (100, 789.24),
]  # fmt: skip

# OIML R 22 formula worked by another program: % vol at 20 °C, °C, kg/m³. A check on typing, no table.
FORMULA = [
    (1, 20, 996.70), (4, 20, 992.41), (6, 20, 989.73), (11, 20, 983.52),
    (13, 20, 981.21), (15, 20, 978.97), (17, 20, 976.79), (22, 20, 971.40),
    (0, 0, 999.84), (10, 0, 987.12), (14, 0, 983.37), (18, 0, 980.20),
    (40, 0, 960.63), (5, 5, 992.91), (12, 5, 984.95), (16, 5, 981.22),
    (20, 5, 977.86), (0, 10, 999.70), (10, 10, 986.56), (14, 10, 982.34),
    (18, 10, 978.51), (40, 10, 954.52), (5, 15, 991.98), (12, 15, 983.52),
    (16, 15, 979.26), (20, 15, 975.24), (0, 25, 997.04), (10, 25, 983.37),
    (14, 25, 978.56), (18, 25, 973.94), (40, 25, 944.67), (5, 30, 988.41),
    (12, 30, 979.28), (16, 30, 974.38), (20, 30, 969.54), (0, 35, 994.03),
    (10, 35, 980.00), (14, 35, 974.86), (18, 35, 969.79), (40, 35, 937.62),
    (5, 40, 984.82), (12, 40, 975.36), (16, 40, 970.09), (20, 40, 964.77),
]  # fmt: skip

# USP 29 alcoholometric table (NBS Bulletin 9): % mass, % vol at 15.56 °C.
PHARMACOPOEIA = [
    (1, 1.26), (2, 2.51), (3, 3.76), (4, 5.00), (5, 6.24), (6, 7.48),
    (7, 8.71), (8, 9.94), (9, 11.17), (10, 12.39), (11, 13.61), (12, 14.83),
    (13, 16.05), (14, 17.26), (15, 18.47), (16, 19.68), (18, 22.08), (20, 24.47),
    (25, 30.39), (30, 36.18),
]  # fmt: skip

# CRC Handbook, 102nd ed., ethanol at 20 °C: % mass, g/cm³.
HANDBOOK = [
    (1, 0.9963), (3, 0.9927), (5, 0.9893), (7, 0.9862), (9, 0.9833), (11, 0.9805),
    (13, 0.9778), (15, 0.9752), (18, 0.9713),
]  # fmt: skip


@pytest.mark.parametrize(("abv", "printed"), OFFICIAL)
def test_density_is_that_of_the_official_table(abv, printed):
    """To its last place."""
    assert density_from_abv(abv) == pytest.approx(printed, abs=0.0051)


@pytest.mark.parametrize(("abv", "temp_c", "worked"), FORMULA)
def test_density_is_the_formula_others_work_out(abv, temp_c, worked):
    """One wrong digit in 66 coefficients would show here."""
    assert density_from_abv(abv, temp_c) == pytest.approx(worked, abs=0.0051)


@pytest.mark.parametrize(("mass_pct", "printed"), PHARMACOPOEIA)
def test_strength_by_mass_and_volume_is_that_of_the_pharmacopoeia(mass_pct, printed):
    """A table at 60 °F made from other measurements; it rounds to 0.01."""
    share = mass_pct / 100
    at_60_f = 100 * share * ethanol_density(share, 15.56) / ethanol_density(1.0, 15.56)
    assert at_60_f == pytest.approx(printed, abs=0.0105)


@pytest.mark.parametrize(("mass_pct", "printed"), HANDBOOK)
def test_density_is_near_the_handbook(mass_pct, printed):
    """1.5e-4 g/cm³: the handbook's own rounding and older water."""
    assert ethanol_density(mass_pct / 100) / 1000 == pytest.approx(printed, abs=1.5e-4)


@given(st.floats(0, 99), st.floats(-20, 40))
def test_stronger_is_lighter(abv, temp_c):
    """Over the whole range of the formula that a cellar can see, 0 °C and up."""
    if temp_c >= 0:
        assert density_from_abv(abv + 1, temp_c) < density_from_abv(abv, temp_c)
    assert density_from_abv(abv, temp_c) > 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: ethanol_density(1.1),
        lambda: ethanol_density(0.1, 41),
        lambda: mass_share_from_abv(-1),
    ],
)
def test_out_of_range_is_told_in_one_line(call):
    """With the range named."""
    with pytest.raises(ValueError, match=r"^[^\n]+ must be [^\n]+ to [^\n]+, got [^\n]+$"):
        call()
