"""What was added is known by its name: rules on sulfite, food and fruit rest on it."""

from __future__ import annotations

import pytest

from mustwatch.entry.substance import kind_of


@pytest.mark.parametrize(
    ("name", "category"),
    [
        ("nutrient", "nutrient"),
        ("DAP", "nutrient"),
        ("diammonium phosphate", "nutrient"),
        ("yeast nutrient", "nutrient"),
        ("inactive yeast", "nutrient"),
        ("potassium metabisulfite", "sulfite"),
        ("sodium metabisulphite", "sulfite"),
        ("sulphite tablets", "sulfite"),
        ("potassium sorbate", "sorbate"),
        ("potassium bicarbonate", "carbonate"),
        ("oak chips", "oak"),
        ("heather honey", "honey"),
        ("honey", "honey"),
        ("apple juice", "juice"),
        ("raspberries", "fruit"),
        ("frozen cherries", "fruit"),
        ("peaches", "fruit"),
        ("cane sugar", "sugar"),
        ("orange peel", "spice"),
        ("cinnamon", "spice"),
        ("tartaric acid", "acid"),
        ("ale yeast", "yeast"),
        ("glass marbles", "other"),
        ("", "other"),
    ],
)
def test_a_name_tells_its_kind(name: str, category: str) -> None:
    """Sulfite taken for something else would blind the rules that watch its limit."""
    assert kind_of(name)[0] == category


def test_diammonium_phosphate_brings_its_nitrogen() -> None:
    """Stoichiometry: two nitrogen atoms in (NH4)2HPO4, 28.014 of 132.056 g, 212 mg a gram."""
    assert kind_of("DAP")[1] == pytest.approx(212.1, abs=0.1)
