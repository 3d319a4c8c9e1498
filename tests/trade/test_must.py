"""Mass and volume of a must."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.gravity import brix_from_sg, density_from_sg
from mustwatch.trade.library import INGREDIENTS
from mustwatch.trade.must import Part, free_space_l, kg_from_litres, mixed, part

masses = st.floats(0.05, 50)
parts = st.builds(
    lambda kg, sugar, rest, share: Part("thing", kg, sugar, (100 - sugar) * rest, share),
    masses, st.floats(0, 90), st.floats(0, 1), st.floats(0, 1),
)  # fmt: skip


@given(st.lists(parts, max_size=6), st.floats(10, 100))
def test_masses_add_up(things, water_l):
    """Nothing is lost between the scale and the must."""
    try:
        must = mixed(things, water_l=water_l)
    except ValueError as refusal:
        assert "sugar of the mixture" in str(refusal)
        return
    pulp_kg = must.pulp_l * 1.5
    assert must.liquid_kg + pulp_kg == pytest.approx(sum(each.kg for each in things) + must.water_added_kg)
    assert must.volume_l * density_from_sg(must.sg) / 1000 == pytest.approx(must.liquid_kg)
    assert must.sugar_kg == pytest.approx(must.brix / 100 * must.liquid_kg)
    assert must.fermentable_sugar_kg <= must.sugar_kg + 1e-12


@given(st.floats(0.1, 3), st.floats(4, 30))
def test_making_up_to_a_volume_reaches_it(honey_kg, final_l):
    """Made up to the mark means the mark."""
    assert mixed([Part("honey", honey_kg, 82.8, 17.2)], final_l=final_l).volume_l == pytest.approx(final_l, rel=1e-6)


def test_a_gallon_added_is_not_a_gallon_made_up():
    """3 lb of honey and a US gallon of water: 1.0915; made up to a gallon: 1.114 (worked from
    composition, 82.9 % solids)."""
    honey = Part("honey", 3 * 0.45359237, 82.9, 17.1)
    assert mixed([honey], water_l=3.785411784).sg == pytest.approx(1.0915, abs=0.0005)
    assert mixed([honey], final_l=3.785411784).sg == pytest.approx(1.114, abs=0.0005)


def test_fruit_lowers_a_strong_must():
    """3 lb raspberries in a US gallon of 1.110 bring the whole to about 1.088 (worked from composition)."""
    must_kg = 3.785411784 * density_from_sg(1.110) / 1000
    brix = brix_from_sg(1.110)
    strong = Part("must", must_kg, brix, 100 - brix)
    assert mixed([strong, part(INGREDIENTS["raspberry"], 1.3608)], water_l=0).sg == pytest.approx(1.088, abs=0.001)


def test_pulp_takes_room_but_no_gravity():
    """Skins and stones fill the jug."""
    must = mixed([part(INGREDIENTS["raspberry"], 1.5), part(INGREDIENTS["honey"], 1.4)], final_l=4.5)
    assert 0 < must.pulp_l < 0.2
    assert free_space_l(must, 5.0) == pytest.approx(0.5 - must.pulp_l)


def test_liquids_may_be_measured_and_solids_not():
    """A litre of honey is 1.42 kg; a litre of strawberries says nothing."""
    assert kg_from_litres(INGREDIENTS["honey"], 1.0) == pytest.approx(1.42, abs=0.01)
    assert kg_from_litres(INGREDIENTS["apple-juice"], 1.0) == pytest.approx(1.04, abs=0.01)
    with pytest.raises(ValueError, match="weigh it"):
        kg_from_litres(INGREDIENTS["strawberry"], 1.0)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: mixed([], water_l=0), "nothing is mixed"),
        (lambda: mixed([], water_l=1, final_l=2), "either the water added or the final volume"),
        (lambda: mixed([]), "either the water added or the final volume"),
        (lambda: mixed([Part("honey", 10, 82.8, 17.2)], final_l=2), "alone fill"),
        (lambda: mixed([Part("sugar", 10, 100, 0)], water_l=0), "must be 0 to 79"),
        (lambda: Part("honey", -1, 82.8, 17.2), "must be 0 to 100000 kg"),
        (lambda: Part("honey", 1, 82.8, 30), "together must be 0 to 100"),
    ],
)
def test_what_cannot_be_mixed_is_told_in_one_line(call, words):
    """What is wrong, and by it what would be right."""
    with pytest.raises(ValueError, match=words) as caught:
        call()
    assert "\n" not in str(caught.value)
