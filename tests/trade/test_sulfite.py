"""Sulfite against the extension table, the OIV table, the winemakers' formula and the law."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade import sulfite

# Enology Briefs 1 no. 1 (1982), University of California Cooperative Extension: pH, molecular share in %.
SHARE_ROWS = [(2.9, 7.5), (3.1, 4.9), (3.3, 3.1), (3.5, 2.0), (3.7, 1.3), (3.9, 0.8)]
# The same: pH, molecular mg/L, free mg/L.
FREE_ROWS = [
    (2.9, 0.5, 7),
    (3.0, 0.8, 13),
    (3.1, 0.5, 10),
    (3.2, 0.8, 21),
    (3.3, 0.5, 16),
    (3.4, 0.8, 32),
    (3.5, 0.5, 25),
    (3.6, 0.8, 50),
    (3.7, 0.5, 39),
    (3.8, 0.8, 79),
    (3.9, 0.5, 62),
    (4.0, 0.8, 125),
]
# OIV-MA-AS323-04C, Table I: % vol, °C, pK.
OIV_ROWS = [
    (0, 20, 1.798),
    (0, 25, 2.000),
    (0, 30, 2.219),
    (0, 35, 2.334),
    (0, 40, 2.493),
    (5, 20, 1.897),
    (5, 25, 2.098),
    (5, 30, 2.299),
    (5, 35, 2.397),
    (5, 40, 2.527),
    (10, 20, 1.997),
    (10, 25, 2.198),
    (10, 30, 2.394),
    (10, 35, 2.488),
    (10, 40, 2.606),
    (15, 20, 2.099),
    (15, 25, 2.301),
    (15, 30, 2.503),
    (15, 35, 2.607),
    (15, 40, 2.728),
]


@pytest.mark.parametrize(("ph", "per_cent"), SHARE_ROWS)
def test_molecular_share_rounds_to_the_extension_table(ph, per_cent):
    """Within half of its last digit, with pK 1.81."""
    assert 100 * sulfite.molecular_share(ph) == pytest.approx(per_cent, abs=0.05)


@pytest.mark.parametrize(("ph", "molecular", "free"), FREE_ROWS)
def test_free_so2_rounds_to_the_extension_table(ph, molecular, free):
    """Within 1 mg/L, the source's rounding (its 21 at pH 3.2 is 20.4 by the formula)."""
    assert sulfite.free_so2_needed(ph, molecular) == pytest.approx(free, abs=1)


@pytest.mark.parametrize(("ph", "by_chemistry"), [(3.0, 13.2), (3.2, 20.4), (3.4, 31.9), (3.5, 40.0), (3.8, 79.0)])
def test_free_so2_by_chemistry(ph, by_chemistry):
    assert sulfite.free_so2_needed(ph, 0.8) == pytest.approx(by_chemistry, abs=0.05)


@pytest.mark.parametrize(("ph", "free"), [(3.4, 35), (3.8, 87)])
def test_another_pk_reads_a_tenth_higher(ph, free):
    """A state wineries association's table, made with pK 1.77."""
    assert sulfite.free_so2_needed(ph, 0.8, pk=1.77) == pytest.approx(free, abs=0.7)


@pytest.mark.parametrize(("abv", "temp_c", "pk"), OIV_ROWS)
def test_thermodynamic_pk_is_the_oiv_table(abv, temp_c, pk):
    assert sulfite.pk_thermodynamic(abv, temp_c) == pytest.approx(pk, abs=0.001)


@pytest.mark.parametrize(("abv", "pk"), [(0, 1.723), (5, 1.819), (10, 1.916), (15, 2.014)])
def test_mixed_pk_is_oiv_table_two_at_20_degrees(abv, pk):
    """Ionic strength 0.038; the rows are from memory, hence 0.005."""
    assert sulfite.pk_mixed(abv, 20.0) == pytest.approx(pk, abs=0.005)


def test_working_pk_asks_for_more_than_the_oiv_one():
    """At 12 % vol and 20 °C the OIV constant is about 1.955: some 40 % more molecular SO2."""
    oiv = sulfite.pk_mixed(12.0, 20.0)
    assert oiv == pytest.approx(1.955, abs=0.005)
    ratio = sulfite.free_so2_needed(3.5) / sulfite.free_so2_needed(3.5, pk=oiv)
    assert ratio == pytest.approx(1.4, abs=0.03)


def test_metabisulfite_worked_examples():
    """50 mg/L in 100 L: 8.68 g (printed 8.6 to 8.7). 0 to 40 in 3.785 L: (A - B) L 1.75/1000 = 0.265 g."""
    assert sulfite.metabisulfite_g(50, 100) == pytest.approx(8.68, abs=0.01)
    assert sulfite.metabisulfite_g(40, 3.785) == pytest.approx(40 * 3.785 * 1.75 / 1000, rel=0.01)
    assert pytest.approx(2 * 64.064 / 222.32, abs=0.001) == sulfite.METABISULFITE_SO2_SHARE


def test_limits_are_those_of_the_law():
    """OENO 9/98: 150 and 300 mg/L; 27 CFR 4.22(b)(1): 350; (EU) 2019/934: 200 and 250."""
    by_name = {(limit.where, limit.what): limit.mg_per_l for limit in sulfite.TOTAL_SO2_LIMITS}
    assert by_name[("OIV", "red wine to 4 g/L sugar")] == 150
    assert by_name[("OIV", "wine over 4 g/L sugar")] == 300
    assert by_name[("US", "wine")] == 350
    assert by_name[("EU", "white wine from 5 g/L sugar")] == 250
    assert by_name[("EU", "mead")] == 200


def test_no_dose_without_a_ph():
    """The pH moves the answer tenfold: a guess would be no dose at all."""
    with pytest.raises(ValueError, match="without the pH"):
        sulfite.free_so2_needed(None)
    with pytest.raises(ValueError, match="without the pH"):
        sulfite.sulfite_dose(None, 10)


def test_free_so2_already_there_is_taken_off():
    """40 mg/L wanted, 25 there: 15 to add; a bottle already rich gets none."""
    assert sulfite.sulfite_dose(3.5, 10, free_now_mg_per_l=25).add_mg_per_l == pytest.approx(15, abs=0.2)
    assert sulfite.sulfite_dose(3.5, 10, free_now_mg_per_l=60).salt_g == 0


def test_an_unreachable_ph_is_refused():
    with pytest.raises(ValueError, match="lower the pH"):
        sulfite.sulfite_dose(4.9, 10)


@given(st.floats(2.5, 4.4), st.floats(0.1, 2.0), st.floats(0.01, 0.5))
def test_needed_free_so2_comes_round_and_grows_with_ph(ph, molecular, step):
    free = sulfite.free_so2_needed(ph, molecular)
    assert free * sulfite.molecular_share(ph) == pytest.approx(molecular)
    assert sulfite.free_so2_needed(ph + step, molecular) > free


@given(st.floats(0, 20), st.floats(20, 40))
def test_oiv_pk_has_no_gaps(abv, temp_c):
    assert 1.79 < sulfite.pk_thermodynamic(abv, temp_c) < 2.9


@pytest.mark.parametrize(
    "call",
    [
        lambda: sulfite.molecular_share(7),
        lambda: sulfite.free_so2_needed(3.4, 5),
        lambda: sulfite.pk_thermodynamic(12, 15),
        lambda: sulfite.pk_thermodynamic(22, 25),
        lambda: sulfite.metabisulfite_g(900, 10),
        lambda: sulfite.metabisulfite_g(50, float("nan")),
    ],
)
def test_out_of_range_is_refused_in_one_line_naming_it(call):
    with pytest.raises(ValueError, match=r" to .*got") as refused:
        call()
    assert "\n" not in str(refused.value)
