"""The figures the package ships, and a cellar's own beside them."""

import subprocess
import sys

import pytest

from mustwatch.trade.library import INGREDIENTS, YEAST_CLASSES, ingredients, yeast_classes


def test_every_class_of_the_event_vocabulary_is_known():
    """A pitched yeast of any class, also unknown, has a tolerance to judge by."""
    wanted = {"bread", "ale", "lager", "white-wine", "sparkling", "high-tolerance", "unknown"}
    assert set(YEAST_CLASSES) == wanted


def test_unknown_spans_all_classes():
    """Unknown never means safe: its tolerance reaches from the weakest to the strongest."""
    known = [kind for name, kind in YEAST_CLASSES.items() if name != "unknown"]
    unknown = YEAST_CLASSES["unknown"]
    assert unknown.tolerance_low == min(kind.tolerance_low for kind in known)
    assert unknown.tolerance_high == max(kind.tolerance_high for kind in known)


@pytest.mark.parametrize("shelf", [YEAST_CLASSES, INGREDIENTS])
def test_every_figure_has_a_source_and_a_confidence(shelf):
    """No figure without its voucher."""
    for name, entry in shelf.items():
        assert entry.source and entry.source != "from the cellar settings", name
        assert entry.confidence in ("H", "M", "L"), name


def test_a_figure_from_memory_is_never_called_certain():
    """Memory is L, or M where only its water is remembered."""
    for name, entry in INGREDIENTS.items():
        assert "memory" not in entry.source or entry.confidence != "H", name


# USDA values as reported, g sugar in 100 g (honey: water 17.1 to 17.2, solids by difference).
SUGAR = {
    "apple": 10.4, "peach": 8.4, "pear": 9.8, "plum": 9.9, "blueberry": 10.0, "grape": 16.3, "fig": 16.3,
    "pomegranate": 16.6, "raspberry": 4.4, "strawberry": 4.9, "blackberry": 4.9, "apple-juice": 9.6,
    "apple-juice-concentrate": 38.8, "sour-cherry": 8.5, "sweet-cherry": 12.8, "grape-juice": 14.2,
    "orange-juice": 8.4, "cranberry": 4.3, "raisin": 59.0, "mango": 13.7, "maple-syrup": 60.0,
}  # fmt: skip


@pytest.mark.parametrize(("name", "sugar_pct"), SUGAR.items())
def test_sugars_are_those_of_the_table(name, sugar_pct):
    """A typing check on the data files."""
    assert INGREDIENTS[name].sugar_pct == sugar_pct
    assert INGREDIENTS[name].sugar_pct + INGREDIENTS[name].water_pct <= 100


def test_a_cellar_may_add_and_overrule():
    """One figure at a time; what it does not name stays."""
    own = ingredients({"heather honey of Anna": {"category": "honey", "water_pct": 21.0}, "honey": {"water_pct": 18}})
    assert own["heather honey of Anna"].sugar_pct == 79.0 and own["honey"].sugar_pct == 82.0
    assert own["raspberry"] == INGREDIENTS["raspberry"] and INGREDIENTS["honey"].water_pct == 17.2
    wild = {"tolerance_low_abv": 4, "tolerance_high_abv": 9, "low_c": 12, "high_c": 22}
    yeasts = yeast_classes({"wild": wild})
    assert yeasts["wild"].source == "from the cellar settings" and "ale" in yeasts


@pytest.mark.parametrize(
    ("extend", "extra", "words"),
    [
        (yeast_classes, {"odd": {}}, "'odd' needs a number for tolerance_low_abv"),
        (yeast_classes, {"ale": {"tolerance_high_abv": 40}}, "must be 8 to 25 % vol"),
        (yeast_classes, {"ale": {"low_c": "warm"}}, "needs a number for low_c"),
        (ingredients, {"odd": {"category": "metal"}}, "must be one of honey, fruit"),
        (ingredients, {"odd": {"category": "fruit", "sugar_pct": 50}}, "needs a number for water_pct"),
        (ingredients, {"odd": {"category": "fruit", "sugar_pct": 60, "water_pct": 60}}, "together must be 0 to 100"),
    ],
)
def test_a_wrong_figure_in_the_cellar_is_named(extend, extra, words):
    """Which entry, and what is wrong with it."""
    with pytest.raises(ValueError, match=words):
        extend(extra)


def test_importing_the_library_reads_nothing():
    """Commands start fast: the data files and their reader are touched only when asked for."""
    code = "import sys, mustwatch.trade.library; print('tomllib' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout.strip() == "False"
