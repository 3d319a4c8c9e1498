"""What if: words as the event they would be."""

import pytest
from screens.small_cellar import NOW, batch, numbered

from mustwatch.cellar.fold import fold
from mustwatch.deeds.deed import Ground
from mustwatch.deeds.supposing import batch_if, supposed
from mustwatch.ledger.settings import Settings


@pytest.fixture
def ground() -> Ground:
    """A batch that ferments, five litres or so."""
    told = numbered(batch("quiet-1", 9, [1.100, 1.085, 1.070, 1.055]))
    return Ground("quiet-1", fold(told, Settings(), NOW), NOW, told)


@pytest.mark.parametrize("words", ["warmed to 20C", "cooled to 20 C", "Warmed 68F"])
def test_warmth_is_a_place_as_warm_as_that(ground, words):
    """In either scale, with and without a to."""
    event = supposed(words, ground, NOW)
    assert event.kind == "moved" and event.air_c == pytest.approx(20.0)


def test_food_is_an_addition_of_its_kind(ground):
    """By its everyday name, and without one it is nutrient."""
    assert supposed("fed 1g DAP", ground, NOW).category == "nutrient"
    assert supposed("fed 1 g", ground, NOW).what == "nutrient"


def test_so_many_points_are_as_much_honey_as_brings_them(ground):
    """Folded in, the start has risen by that."""
    event = supposed("sweetened 10 points", ground, NOW)
    after = batch_if(event, ground, NOW)
    assert event.category == "honey"
    assert after.added_points - ground.batch.added_points == pytest.approx(10, abs=0.1)


def test_sealed_is_a_bung_or_what_is_named(ground):
    """The closure as a person says it."""
    assert supposed("sealed now", ground, NOW).closure == "solid-bung"
    assert supposed("sealed with swing-top", ground, NOW).closure == "swing-top"
    assert batch_if(supposed("sealed now", ground, NOW), ground, NOW).closing.sealed


def test_the_batch_in_hand_is_untouched(ground):
    """Supposing is no deed."""
    before = ground.batch
    batch_if(supposed("sealed now", ground, NOW), ground, NOW)
    assert ground.batch is before and not before.closing.sealed


@pytest.mark.parametrize(
    "words", ["", "sung to", "warmed to nowhere", "sweetened x points", "sweetened 0 points", "sweetened 151 points",
              "sweetened 5g DAP", "fed", "sealed with string"],
)  # fmt: skip
def test_what_cannot_be_supposed_is_refused_in_one_line(ground, words):
    """Nothing is guessed."""
    with pytest.raises(ValueError) as refused:
        supposed(words, ground, NOW)
    assert str(refused.value) and "\n" not in str(refused.value)


def test_points_up_to_the_most_are_taken(ground):
    """The bound on its other side."""
    assert supposed("sweetened 150 points", ground, NOW).g > 0
