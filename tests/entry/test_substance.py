"""What was added is known by its name: rules on sulfite, food and fruit rest on it."""

from __future__ import annotations

import pytest

from mustwatch.entry.substance import is_sodium, is_unknown_powder, kind_of


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
        ("campden", "sulfite"),
        ("crushed Campden tablets", "sulfite"),
        ("camden tablets", "sulfite"),
        ("potassium metabisulphite", "sulfite"),
        ("pot. meta", "sulfite"),
        ("metabisulphate", "sulfite"),
        ("k-meta", "sulfite"),
        ("KMS", "sulfite"),
        ("SMB", "sulfite"),
        ("E224", "sulfite"),
        ("sulfite-free cider", "juice"),
        ("unsulphited apricots", "fruit"),
        ("apple juice (no preservatives)", "juice"),
        ("sorbic acid", "sorbate"),
        ("k-sorbate", "sorbate"),
        ("E 202", "sorbate"),
        ("di-ammonium phosphate", "nutrient"),
        ("yeast energizer", "nutrient"),
        ("energiser", "nutrient"),
        ("yeast hulls", "nutrient"),
        ("hulls", "nutrient"),
        ("cocoa hulls", "other"),
        ("autolysate", "nutrient"),
        ("garden urea", "nutrient"),
        ("baking soda", "carbonate"),
        ("bicarb", "carbonate"),
        ("bicarbonate of soda", "carbonate"),
        ("club soda", "other"),
        ("chalk", "carbonate"),
        ("calcium carbonate", "carbonate"),
        ("potash", "carbonate"),
        ("acid blend", "acid"),
        ("citric", "acid"),
        ("malic acid", "acid"),
        ("cream of tartar", "acid"),
        ("soaked raisins", "fruit"),
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


def test_urea_brings_its_nitrogen() -> None:
    """Stoichiometry: two nitrogen atoms in CO(NH2)2, 28.014 of 60.056 g, 466 mg a gram."""
    assert kind_of("urea")[1] == pytest.approx(466.5, abs=0.1)


@pytest.mark.parametrize("name", ["white powder", "stabiliser", "KHC", "grey tablets", "some crystals"])
def test_a_powder_of_no_known_name_is_one_to_ask_about(name: str) -> None:
    """It may be sulfite: a limit that nobody watches."""
    assert is_unknown_powder(name)


@pytest.mark.parametrize(
    "name", ["campden tablets", "marbles", "cocoa powder", "sea salt", "oak powder", "hops", "DAP"]
)
def test_what_is_known_or_no_powder_is_not_asked_about(name: str) -> None:
    """Two questions for every spoon of cocoa would be answered blindly."""
    assert not is_unknown_powder(name)


@pytest.mark.parametrize(("name", "sodium"), [("SMB", True), ("sodium meta", True), ("E223", True), ("KMS", False)])
def test_the_salt_of_sodium_is_told_by_its_short_names_too(name: str, sodium: bool) -> None:
    """A gram of it holds a sixth more SO2 than one of the potassium salt (0.674 and 0.576, stoichiometry)."""
    assert is_sodium(name) is sodium
