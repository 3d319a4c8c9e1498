"""The refractometer with alcohol in the sample: what little can be checked, and the refusals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.gravity import brix_from_sg
from mustwatch.trade.refract import refracted, strength_from_both
from mustwatch.trade.refractive import brix_from_refractive_index, ethanol_refraction, refraction_from_brix
from mustwatch.trade.strength import mass_balance
from mustwatch.trade.tabarie import sg_from_alcohol_and_extract

# CRC Handbook ethanol indices through the ICUMSA index: ethanol % mass, Brix shown, when no sugar is left.
DRY = [(10, 4.47), (12, 5.48)]

# Rogerson and Symington, Am. J. Enol. Vitic. 57 (2006) 486: fitted on 35 young ports,
# % vol = 1.646 Brix - 2.703 Baume - 1.794. Brix, Baume, % vol.
PORTS = [(12, 2.0, 12.55), (16, 3.5, 15.08)]


def apparent_brix(abv: float, extract_pct: float) -> float:
    """What a refractometer shows for a drink of known alcohol and sugar: their refractions (CRC Handbook) over water,
    added, which is a simplification of our own. The way there, for checks of the way back."""
    sg = 1.0 + extract_pct / 250.0 - abv * 0.00125
    for _ in range(6):
        sg = sg_from_alcohol_and_extract(abv, extract_pct * sg * 9.982)
    alcohol_pct = abv * 0.78924 / 0.99820 / sg
    extra = ethanol_refraction(alcohol_pct) if alcohol_pct > 0 else 0.0
    return brix_from_refractive_index(refraction_from_brix(extract_pct) + extra)


@pytest.mark.parametrize(("mass_pct", "shown"), DRY)
def test_a_bone_dry_drink_still_shows_sugar(mass_pct, shown):
    """The whole trap of the instrument, to 0.1 Brix, the rounding of the handbook."""
    abv = mass_pct * 1.2440 if mass_pct == 10 else 12 * 1.2396
    assert apparent_brix(abv, 0.0) == pytest.approx(shown, abs=0.1)


@pytest.mark.parametrize(("brix", "baume", "abv"), PORTS)
def test_two_instruments_together_find_the_strength_of_ports(brix, baume, abv):
    """Physics with no fitted constant against a fit to real fortified wines: 0.2 % vol apart."""
    assert strength_from_both(brix, 145 / (145 - baume))[0] == pytest.approx(abv, abs=0.2)


@given(st.floats(1.04, 1.12), st.floats(0.1, 0.98))
def test_the_way_back_finds_the_ferment_it_came_from(start_sg, done):
    """A ferment made by the mass balance, seen by the instrument, found again."""
    present_sg = start_sg - done * (start_sg - 0.997)
    made = mass_balance(start_sg, present_sg)
    seen = refracted(start_sg, apparent_brix(made.abv, max(0.0, made.extract_pct_mass)))
    assert seen.abv == pytest.approx(made.abv, abs=0.02)
    assert seen.sg == pytest.approx(present_sg, abs=0.0003)


@given(st.floats(1.03, 1.17), st.floats(0, 1))
def test_bounds_hold_the_estimate(start_sg, part):
    """Never raises between the start and wholly fermented; low <= value <= high."""
    start_pct = brix_from_sg(start_sg)
    seen = refracted(start_sg, start_pct * (0.5 + 0.5 * part))
    assert seen.sg_low <= seen.sg <= seen.sg_high
    assert seen.abv_low <= seen.abv <= seen.abv_high


def test_the_doubt_is_told_with_the_number():
    """A refractometer alone is too blunt to call the end: 0.006 wide, six marks."""
    seen = refracted(1.100, 9.0)
    assert seen.sg_high - seen.sg_low > 0.005
    assert "hydrometer" in seen.caution and "sealing" in seen.caution


@given(st.floats(0, 20), st.floats(0, 150))
def test_both_instruments_find_alcohol_and_sugar(abv, extract_g_per_l):
    """Round trip of the pair."""
    sg = sg_from_alcohol_and_extract(abv, extract_g_per_l)
    if sg >= 0.971:
        shown = apparent_brix(abv, extract_g_per_l / sg / 9.982)
        found_abv, found_g_per_l = strength_from_both(shown, sg)
        assert found_abv == pytest.approx(abv, abs=0.05)
        assert found_g_per_l == pytest.approx(extract_g_per_l, abs=0.5)


@pytest.mark.parametrize(
    ("start_sg", "shown", "words"),
    [(1.100, 30.0, "check the reading"), (1.100, 3.0, "use a hydrometer"), (1.25, 9.0, "must be 1.03 to 1.17")],
)
def test_a_reading_that_fits_no_ferment_is_refused(start_sg, shown, words):
    """Saying what it could have been, in one line."""
    with pytest.raises(ValueError, match=words) as caught:
        refracted(start_sg, shown)
    assert "\n" not in str(caught.value)


def test_a_pair_that_fits_no_drink_is_refused():
    """20 Brix cannot float at 1.000."""
    with pytest.raises(ValueError, match="fits no drink of 0 to 22 % vol"):
        strength_from_both(30, 1.000)
