"""Feeding against the quoted ladder, formula weights, the trial on mead and the legal ceilings."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade import nitrogen


# Bisson and Butzke, Am. J. Enol. Vitic. 51 (2000) 168, as widely quoted; 23 and 27 from common practice.
@pytest.mark.parametrize(("brix", "need"), [(21, 200), (23, 250), (25, 300), (27, 350)])
def test_need_follows_the_quoted_ladder(brix, need):
    assert nitrogen.nitrogen_need(brix) == pytest.approx(need)


def test_low_appetite_is_the_quoted_minimum():
    """140 mg/L at 21 Brix, a winemaker's minimum, often judged too low."""
    assert nitrogen.nitrogen_need(21, "low") == pytest.approx(140)


def test_diammonium_phosphate_is_a_fifth_nitrogen():
    """2 x 14.007 / 132.056 = 21.21 %; a page that prints 22.5 % is wrong."""
    assert pytest.approx(212.1, abs=0.2) == nitrogen.DAP_NITROGEN_MG_PER_G


def test_the_mead_trial_in_milligrams():
    """25.5 Brix needed 0.7 g/L (abstract of the trial on late supplementation): 148 mg N/L."""
    assert pytest.approx(148, abs=0.6) == 0.7 * nitrogen.DAP_NITROGEN_MG_PER_G


def test_oiv_ceiling_in_milligrams():
    """0.3 g/L, exact, is 64 mg N/L."""
    assert nitrogen.OIV_DAP_G_PER_L == 0.3
    assert pytest.approx(64, abs=0.5) == 0.3 * nitrogen.DAP_NITROGEN_MG_PER_G


def test_worked_example_of_a_gallon_at_25_brix():
    """1.106, honey must of 20 mg/L, 300 wanted, 1 US gal: 280 mg/L, 1.06 g N, 5.0 g, 1.32 g/L."""
    plan = nitrogen.feed_plan(1.106, 3.7854, wanted_mg_per_l=300, must_mg_per_l=20, dap_cap_g_per_l=2)
    assert plan.add_mg_per_l == pytest.approx(280)
    assert plan.add_mg_per_l * 3.7854 / 1000 == pytest.approx(1.06, abs=0.005)
    assert plan.dap_g == pytest.approx(5.0, abs=0.05)
    assert plan.dap_g_per_l == pytest.approx(1.32, abs=0.005)


def test_over_the_ceiling_the_rest_is_another_food_or_is_named_as_missing():
    """0.96 g/L (US wine, from memory) leaves 76 mg/L of the 280 open."""
    capped = nitrogen.feed_plan(1.106, 3.7854, wanted_mg_per_l=300)
    assert capped.dap_g_per_l == pytest.approx(0.96)
    assert capped.short_mg_per_l == pytest.approx(280 - 203.6, abs=0.2)
    fed = nitrogen.feed_plan(1.106, 3.7854, wanted_mg_per_l=300, food_mg_per_g=40)
    assert fed.short_mg_per_l == 0
    assert fed.other_g * 40 / 3.7854 == pytest.approx(76.4, abs=0.2)


@pytest.mark.parametrize(("start", "first", "second"), [(1.090, 1.060, 1.030), (1.099, 1.066, 1.033)])
def test_one_third_break_worked_examples(start, first, second):
    assert nitrogen.sugar_breaks(start) == pytest.approx((first, second))


def test_no_food_after_half_the_sugar_or_nine_per_cent():
    """1.110: half is 1.055, 9 % vol is 1.041: the earlier counts. 1.150: 1.0814."""
    assert nitrogen.last_feed_sg(1.110) == pytest.approx(1.055)
    assert nitrogen.last_feed_sg(1.150) == pytest.approx(1.0814, abs=1e-4)


@given(
    st.floats(1.02, 1.17),
    st.floats(0.5, 200),
    st.sampled_from(sorted(nitrogen.APPETITES)),
    st.floats(0, 2),
    st.sampled_from(["hours", "break"]),
)
def test_doses_add_up_and_stay_under_the_cap(start, volume, appetite, cap, by):
    plan = nitrogen.feed_plan(start, volume, appetite, dap_cap_g_per_l=cap, food_mg_per_g=50, by=by)
    given_mg = sum(step.dap_g * nitrogen.DAP_NITROGEN_MG_PER_G + step.other_g * 50 for step in plan.feedings)
    assert given_mg / volume == pytest.approx(plan.add_mg_per_l, abs=1e-6)
    assert plan.dap_g_per_l <= cap + 1e-9
    assert plan.total_mg_per_l <= nitrogen.WATCH_MG_PER_L + 1e-6
    assert all(step.at_sg is None or step.at_sg >= plan.last_sg - 1e-9 for step in plan.feedings)


@given(st.floats(0, 44), st.floats(0, 1))
def test_need_grows_with_sugar(brix, step):
    assert nitrogen.nitrogen_need(brix + step) >= nitrogen.nitrogen_need(brix)


@pytest.mark.parametrize(
    "call",
    [
        lambda: nitrogen.nitrogen_need(60),
        lambda: nitrogen.sugar_breaks(1.3),
        lambda: nitrogen.dose_g(100, -1),
        lambda: nitrogen.dose_g(100, 10, 0),
        lambda: nitrogen.feed_plan(1.1, 10, dap_cap_g_per_l=5),
        lambda: nitrogen.feed_plan(1.1, 10, wanted_mg_per_l=float("nan")),
    ],
)
def test_out_of_range_is_refused_in_one_line_naming_it(call):
    with pytest.raises(ValueError, match=r" to .*got") as refused:
        call()
    assert "\n" not in str(refused.value)


def test_unknown_words_are_told_the_known_ones():
    with pytest.raises(ValueError, match="low, medium or high"):
        nitrogen.nitrogen_need(20, "huge")
    with pytest.raises(ValueError, match="by hours or by break"):
        nitrogen.feed_plan(1.1, 10, by="moon")
