"""Sorbate against the whole of Underhill's table, and the cases in which none is right."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade import sorbate

# Underhill, Making Better Wines, sorbate table: % vol, then mL/L of a 30 g/L solution at pH 3.1 to 3.5.
UNDERHILL = [
    (10, (5.5, 6.0, 7.0, 8.0, 9.0)),
    (11, (4.5, 5.0, 6.0, 7.0, 7.5)),
    (12, (3.2, 3.5, 4.0, 4.5, 5.0)),
    (13, (2.6, 3.0, 3.2, 3.5, 4.0)),
    (14, (2.0, 2.2, 2.4, 2.7, 3.0)),
]


@pytest.mark.parametrize(("abv", "row"), UNDERHILL)
def test_dose_is_underhills(abv, row):
    """All 25 places, in mg/L of the salt."""
    for ph, ml_per_l in zip((3.1, 3.2, 3.3, 3.4, 3.5), row, strict=True):
        assert sorbate.sorbate_dose(abv, ph) == pytest.approx(30 * ml_per_l, abs=0.01)


def test_dose_worked_examples():
    """12 % and pH 3.3: 120 mg/L salt, 90 sorbic; 10 % and 3.5: 270; 14 % and 3.1: 60."""
    assert sorbate.sorbate_dose(12, 3.3) == pytest.approx(120)
    assert sorbate.sorbic_acid(120) == pytest.approx(90, abs=0.5)
    assert sorbate.sorbate_dose(10, 3.5) == pytest.approx(270)
    assert sorbate.sorbate_dose(14, 3.1) == pytest.approx(60)


def test_the_weakest_dose_of_the_table_is_over_the_european_limit():
    """270 mg/L of the salt is 202 mg/L sorbic acid; the limit of 200 allows 268."""
    assert sorbate.sorbic_acid(sorbate.sorbate_dose(10, 3.5)) == pytest.approx(202, abs=0.5)
    assert sorbate.most_sorbate(200) == pytest.approx(268, abs=0.5)
    assert [limit.mg_per_l for limit in sorbate.SORBIC_LIMITS] == [200, 300]


@pytest.mark.parametrize(("abv", "ph"), [(9.5, 3.2), (12, 3.6)])
def test_no_dose_is_given_where_none_can_be_relied_on(abv, ph):
    with pytest.raises(ValueError, match="cannot be relied on"):
        sorbate.sorbate_dose(abv, ph)


def test_beyond_the_strong_and_sour_edge_the_dose_does_not_shrink():
    """No table tells how much less is enough: keep the edge."""
    assert sorbate.sorbate_dose(18, 2.9) == sorbate.sorbate_dose(14, 3.1)


@given(st.floats(10, 15.9), st.floats(2.9, 3.49), st.floats(0, 0.01))
def test_dose_falls_with_alcohol_and_rises_with_ph(abv, ph, step):
    here = sorbate.sorbate_dose(abv, ph)
    assert sorbate.sorbate_dose(abv + step, ph) <= here + 1e-9
    assert sorbate.sorbate_dose(abv, ph + step) >= here - 1e-9


def test_what_is_not_known_speaks_against_it():
    """Unknown never means safe."""
    against = " ".join(sorbate.reasons_against())
    assert "ferment" in against and "without sulfite" in against and "malolactic" in against


def test_fruit_and_priming_are_named():
    known = {"stable": True, "sulfited": True, "malolactic": False}
    assert sorbate.reasons_against(**known) == ()
    assert "priming" in sorbate.reasons_against(**known, will_prime=True)[0]
    assert "apple" in sorbate.reasons_against(**known, fruit_acids=True, ph=3.7)[0]
    assert sorbate.reasons_against(**known, fruit_acids=True, ph=3.3) == ()
