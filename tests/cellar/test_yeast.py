"""What a yeast can bear, and which of it is its own."""

from mustwatch.cellar.yeast import limits_of
from mustwatch.ledger.events import Yeast
from mustwatch.ledger.settings import Settings


def test_a_stated_tolerance_holds_one_per_cent_either_way() -> None:
    """A printed figure is a mean (common practice)."""
    limits = limits_of(Yeast(label="y", tolerance_abv=14), Settings())
    assert (limits.tolerance_low, limits.tolerance_high, limits.tolerance_assumed) == (13, 15, False)


def test_what_is_not_stated_is_the_class_and_says_so() -> None:
    """A temperature with one end known is not known."""
    limits = limits_of(Yeast.model_validate({"label": "y", "class": "ale", "low_c": 12}), Settings())
    assert limits.low_c == 12 and limits.temperature_assumed and limits.tolerance_assumed
