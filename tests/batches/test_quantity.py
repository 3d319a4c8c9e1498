"""Amounts as people type them: metric out, and one line of what would be right where they are unclear."""

import pytest

from mustwatch.batches.quantity import amount_of, fits, lot_of, mass_g, named_amount, typed, vessel_of, volume_l


@pytest.mark.parametrize(
    ("text", "lot"),
    [
        ("12 x 330ml beer crown-cap", {"count": 12, "size_ml": 330, "bottle": "beer", "closure": "crown-cap"}),
        ("6×750 ml cork", {"count": 6, "size_ml": 750, "closure": "cork"}),
        ("3 * 0.5 l swing-top", {"count": 3, "size_ml": 500, "bottle": "swing-top", "closure": "swing-top"}),
    ],
)
def test_a_lot_is_read_in_any_usual_spelling(text, lot):
    """Count, size, bottle and closure, in that order."""
    assert lot_of(text, None) == lot


@pytest.mark.parametrize(
    ("read", "says"),
    [
        (lambda: lot_of("a dozen", None), "write it like '12 x 330ml"),
        (lambda: lot_of("0 x 330ml", None), "no bottles at all"),
        (lambda: lot_of("6 x 330ml jar", None), "neither a bottle"),
        (lambda: amount_of("5", None), "of what unit"),
        (lambda: volume_l("1 gal", None), "differ by a fifth"),
        (lambda: mass_g("5"), "no unit of mass"),
        (lambda: vessel_of("5 l", None), "kind and size"),
        (lambda: fits(9.0, {"kind": "jug", "capacity_l": 5.0}), "do not go into a jug"),
    ],
)
def test_what_is_unclear_is_refused_with_what_would_be_right(read, says):
    """Never a guess: a gallon more or less is a different must."""
    with pytest.raises(ValueError, match=says):
        read()


def test_what_was_typed_is_kept_only_where_it_was_converted():
    """Metric words are on record as they are; pounds are not."""
    assert named_amount("1 lb heather honey", "honey", None) == {
        "what": "heather honey",
        "kg": 0.453592,  # the international avoirdupois pound, 0.45359237 kg
    }
    assert typed("1 lb", "5 g", None) == "1 lb"
    assert typed("5 g", "2 l") is None
