"""Refractive index of sugar and of ethanol, and the refractometer's temperature."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.refractive import (
    brix_from_refractive_index,
    ethanol_refraction,
    refraction_from_brix,
)

# OIV-MA-AS2-02, Table II, every second row of 10 to 30 %: % mass of sucrose, index at 20 °C.
OIV_TABLE_II = [
    (10.0, 1.34782), (10.2, 1.34813), (10.4, 1.34844), (10.6, 1.34875), (10.8, 1.34906), (11.0, 1.34937),
    (11.2, 1.34968), (11.4, 1.34999), (11.6, 1.35031), (11.8, 1.35062), (12.0, 1.35093), (12.2, 1.35124),
    (12.4, 1.35156), (12.6, 1.35187), (12.8, 1.35219), (13.0, 1.35250), (13.2, 1.35282), (13.4, 1.35313),
    (13.6, 1.35345), (13.8, 1.35377), (14.0, 1.35408), (14.2, 1.35440), (14.4, 1.35472), (14.6, 1.35504),
    (14.8, 1.35536), (15.0, 1.35568), (15.2, 1.35600), (15.4, 1.35632), (15.6, 1.35664), (15.8, 1.35696),
    (16.0, 1.35729), (16.2, 1.35761), (16.4, 1.35793), (16.6, 1.35826), (16.8, 1.35858), (17.0, 1.35891),
    (17.2, 1.35923), (17.4, 1.35956), (17.6, 1.35989), (17.8, 1.36021), (18.0, 1.36054), (18.2, 1.36087),
    (18.4, 1.36120), (18.6, 1.36153), (18.8, 1.36185), (19.0, 1.36219), (19.2, 1.36252), (19.4, 1.36285),
    (19.6, 1.36318), (19.8, 1.36351), (20.0, 1.36384), (20.2, 1.36418), (20.4, 1.36451), (20.6, 1.36484),
    (20.8, 1.36518), (21.0, 1.36551), (21.2, 1.36585), (21.4, 1.36618), (21.6, 1.36652), (21.8, 1.36686),
    (22.0, 1.36720), (22.2, 1.36754), (22.4, 1.36787), (22.6, 1.36821), (22.8, 1.36855), (23.0, 1.36889),
    (23.2, 1.36924), (23.4, 1.36958), (23.6, 1.36992), (23.8, 1.37026), (24.0, 1.37060), (24.2, 1.37095),
    (24.4, 1.37129), (24.6, 1.37164), (24.8, 1.37198), (25.0, 1.37233), (25.2, 1.37267), (25.4, 1.37302),
    (25.6, 1.37337), (25.8, 1.37372), (26.0, 1.37407), (26.2, 1.37441), (26.4, 1.37476), (26.6, 1.37511),
    (26.8, 1.37546), (27.0, 1.37582), (27.2, 1.37617), (27.4, 1.37652), (27.6, 1.37687), (27.8, 1.37723),
    (28.0, 1.37758), (28.2, 1.37793), (28.4, 1.37829), (28.6, 1.37864), (28.8, 1.37900), (29.0, 1.37936),
    (29.2, 1.37972), (29.4, 1.38007), (29.6, 1.38043), (29.8, 1.38079), (30.0, 1.38115),
]  # fmt: skip

# OIV-MA-AS2-02, Table I, every second figure of its cold half: % shown, °C, to add.
OIV_TABLE_I = [
    (10, 5, -0.82), (20, 5, -0.92), (30, 5, -0.99), (15, 6, -0.82), (25, 6, -0.90), (10, 7, -0.74),
    (20, 7, -0.82), (30, 7, -0.88), (15, 8, -0.73), (25, 8, -0.79), (10, 9, -0.64), (20, 9, -0.71),
    (30, 9, -0.75), (15, 10, -0.62), (25, 10, -0.67), (35, 10, -0.71), (10, 11, -0.54), (20, 11, -0.59),
    (30, 11, -0.63), (40, 11, -0.65), (15, 12, -0.51), (25, 12, -0.55), (35, 12, -0.57), (10, 13, -0.43),
    (20, 13, -0.47), (30, 13, -0.50), (40, 13, -0.52), (15, 14, -0.39), (25, 14, -0.42), (35, 14, -0.44),
    (10, 15, -0.32), (20, 15, -0.34), (30, 15, -0.36), (40, 15, -0.37), (15, 16, -0.27), (25, 16, -0.28),
    (35, 16, -0.30), (10, 17, -0.20), (20, 17, -0.21), (30, 17, -0.22), (40, 17, -0.23),
]  # fmt: skip

# CRC Handbook, 102nd ed., ethanol: % mass, index at 20 °C.
HANDBOOK_ETHANOL = [
    (1, 1.3336), (3, 1.3348), (5, 1.3360), (7, 1.3374), (9, 1.3388), (11, 1.3403),
    (13, 1.3417), (15, 1.3432), (18, 1.3455),
]  # fmt: skip


@pytest.mark.parametrize(("brix", "index"), OIV_TABLE_II)
def test_sugar_by_light_is_the_oiv_table(brix, index):
    """0.05 Brix, a quarter of a hand instrument's division."""
    assert brix_from_refractive_index(index) == pytest.approx(brix, abs=0.05)
    assert refraction_from_brix(brix) == pytest.approx(index, abs=1e-4)


@pytest.mark.parametrize(("mass_pct", "index"), [*HANDBOOK_ETHANOL, (10, 1.3395), (12, 1.3410)])
def test_ethanol_bends_light_as_the_handbook_says(mass_pct, index):
    """1e-4, its last place; 10 and 12 lie between the rows we keep."""
    assert 1.3330 + ethanol_refraction(mass_pct) == pytest.approx(index, abs=1e-4)


@given(st.floats(-1, 79))
def test_index_goes_there_and_back(brix):
    """Over the whole stated range."""
    assert brix_from_refractive_index(refraction_from_brix(brix)) == pytest.approx(brix, abs=1e-7)


@pytest.mark.parametrize(
    "call",
    [
        lambda: brix_from_refractive_index(1.30),
        lambda: refraction_from_brix(80),
        lambda: ethanol_refraction(19),
    ],
)
def test_out_of_range_is_told_in_one_line(call):
    """The warm half of the table was not to be had, and is not made up."""
    with pytest.raises(ValueError, match=r"^[^\n]+ must be [^\n]+ to [^\n]+, got [^\n]+$"):
        call()
