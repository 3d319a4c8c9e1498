"""Blending, diluting and sweetening keep mass, alcohol, extract and sulfite."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.blend import Lot, blend, cautions, dilute, sweeten, sweeten_to, water
from mustwatch.trade.gravity import density_from_sg
from mustwatch.trade.tabarie import extract_g_per_l, sg_from_alcohol_and_extract


def a_lot(volume_l, abv, extract, free):
    """A lot whose gravity fits its alcohol and extract."""
    return Lot(volume_l, sg_from_alcohol_and_extract(abv, extract), abv, free, free * 3)


lots = st.builds(a_lot, st.floats(0.1, 50), st.floats(0, 18), st.floats(0, 200), st.floats(0, 60))


@given(st.lists(lots, min_size=1, max_size=4))
def test_blending_keeps_everything(several):
    """Mass, alcohol, extract and SO2 go in and come out; volume may only shrink a little."""
    whole = blend(several)
    mass = sum(lot.volume_l * density_from_sg(lot.sg) for lot in several)
    assert whole.volume_l * density_from_sg(whole.sg) == pytest.approx(mass, rel=1e-6)
    assert whole.volume_l * whole.abv == pytest.approx(sum(lot.volume_l * lot.abv for lot in several), rel=1e-6)
    extract = sum(lot.volume_l * extract_g_per_l(lot.sg, lot.abv) for lot in several)
    assert whole.volume_l * extract_g_per_l(whole.sg, whole.abv) == pytest.approx(extract, rel=1e-5, abs=1e-3)
    free = sum(lot.volume_l * lot.free_so2_mg_l for lot in several)
    assert whole.volume_l * whole.free_so2_mg_l == pytest.approx(free, rel=1e-6, abs=1e-9)
    assert whole.volume_l == pytest.approx(sum(lot.volume_l for lot in several), rel=0.01)


@given(lots)
def test_a_lot_blended_with_itself_is_itself(lot):
    """Twice as much of the same."""
    twice = blend([lot, lot])
    assert twice.sg == pytest.approx(lot.sg, abs=1e-6) and twice.abv == pytest.approx(lot.abv, abs=1e-5)


@given(lots, st.floats(0.1, 20))
def test_water_only_ever_thins(lot, water_l):
    """Strength, SO2 and points all come nearer to water."""
    thin = dilute(lot, water_l)
    assert thin.abv <= lot.abv and thin.free_so2_mg_l <= lot.free_so2_mg_l + 1e-9
    assert abs(thin.sg - 1) <= abs(lot.sg - 1) + 0.0015


@given(lots, st.floats(0, 0.03))
def test_sweetening_reaches_the_gravity_asked_for(lot, lift):
    """And weakens, and never shrinks."""
    target_sg = min(lot.sg + lift, 1.15)
    if target_sg >= lot.sg:
        after = sweeten_to(lot, target_sg)
        assert after.lot.sg == pytest.approx(target_sg, abs=2e-6)
        assert after.lot.abv <= lot.abv + 1e-4 and after.lot.volume_l >= lot.volume_l * 0.9999


def test_an_unknown_sulfite_stays_unknown():
    """Half known is not known."""
    assert blend([Lot(1, 1.0, 10, 30, 90), Lot(1, 1.0, 10)]).free_so2_mg_l is None
    assert dilute(Lot(1, 1.0, 10, 30, 90), 1).free_so2_mg_l == pytest.approx(15, rel=0.01)


def test_two_grams_a_litre_is_half_a_volume():
    """What a hydrometer cannot see: 4 g/L make about one volume, by the trade's 3.8 and by hexose's 4.05."""
    after = sweeten(Lot(10, 1.0, 12), 0.040, 100, 0)
    assert after.gas_volumes == pytest.approx(1.0, abs=0.06)


def test_sweetening_an_unstabilised_lot_is_cautioned():
    """Not recorded counts as no; glass is named."""
    lot = Lot(4.5, 0.998, 13.0, 30, 90)
    after = sweeten_to(lot, 1.015)
    for state, words in ((None, "Not known to be stabilised"), (False, "Not stabilised")):
        said = cautions(lot, after.lot, state, after.gas_volumes)
        assert said[0].startswith(words) and "glass can burst" in said[0]
    assert not any("burst" in line for line in cautions(lot, after.lot, True, after.gas_volumes))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: blend([]), "nothing to blend"),
        (lambda: blend([water(0)]), "nothing to blend"),
        (lambda: sweeten(water(0), 1), "nothing to sweeten"),
        (lambda: sweeten_to(Lot(1, 1.02, 10), 1.01), "must be 1.02 to 1.15"),
        (lambda: Lot(1, 1.3), "must be 0.97 to 1.2"),
        (lambda: Lot(1, 1.0, 30), "must be 0 to 25 % vol"),
    ],
)
def test_what_cannot_be_is_told_in_one_line(call, words):
    """What is wrong, and by it what would be right."""
    with pytest.raises(ValueError, match=words) as caught:
        call()
    assert "\n" not in str(caught.value)
