"""Water against two independent implementations of the international formulation."""

import CoolProp.CoolProp as coolprop
import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95

from mustwatch.trade.water import water_density

# IAPWS-95 at 101 325 Pa, °C and kg/m³.
IAPWS = [(0.01, 999.8438), (5, 999.9666), (15, 999.1026), (20, 998.2072), (30, 995.6495), (40, 992.2164)]


@pytest.mark.parametrize(("temp_c", "printed"), IAPWS)
def test_water_stays_with_the_international_formulation(temp_c, printed):
    """Within 0.005 kg/m³: five millionths, finer than any gravity here needs."""
    assert water_density(temp_c) == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize("temp_c", [0.5, 4, 10, 20, 25, 35, 45, 60, 80, 99])
def test_water_agrees_with_two_libraries(temp_c):
    """Two codes that share nothing with ours, over the whole range; 0.01 kg/m³."""
    here = water_density(temp_c)
    assert here == pytest.approx(coolprop.PropsSI("D", "T", temp_c + 273.15, "P", 101325, "Water"), abs=0.01)
    assert here == pytest.approx(IAPWS95(T=temp_c + 273.15, P=0.101325).rho, abs=0.01)


@given(st.floats(5, 99.5))
def test_water_thins_as_it_warms(temp_c):
    """Above 4 °C, the turning point, it may only fall."""
    assert water_density(temp_c + 0.5) < water_density(temp_c)


@pytest.mark.parametrize("temp_c", [-0.1, 100.1, float("nan"), float("inf")])
def test_water_refuses_what_is_out_of_range_in_one_line(temp_c):
    """The line names the range, so that the next try can be right."""
    with pytest.raises(ValueError, match=r"^water temperature must be 0 to 100 °C, got [^\n]+$"):
        water_density(temp_c)
