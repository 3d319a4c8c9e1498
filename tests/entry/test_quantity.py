"""Amounts as people type them: metric out, and one line of what would be right where they are unclear."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.entry.quantity import amount_of, fits, lot_of, mass_g, named_amount, typed, vessel_of, volume_l


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
        (lambda: volume_l("12 fl oz", None), "differ by 4 %"),
        (lambda: amount_of("0 kg", None), "nothing at all"),
        (lambda: amount_of("-1 kg", None), "-1 kg: mass must be"),
        (lambda: named_amount("1 kg 200 g heather", "honey", None), "two amounts"),
        (lambda: vessel_of("jug5l", None), "kind and size"),
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


@pytest.mark.parametrize(
    ("text", "kilograms", "what"),
    [
        ("3 lb 4 oz", 1.474175, "honey"),
        ("1 lb. 8 oz. heather", 0.680389, "heather"),
        ("3lb4oz clover", 1.474175, "clover"),
        ("1½ kg", 1.5, "honey"),
        ("1.3 kg of heather honey", 1.3, "heather honey"),
        ("1.3kg, heather", 1.3, "heather"),
        ("1 kg 2nd pressing", 1.0, "2nd pressing"),
    ],
)
def test_an_amount_is_taken_whole(text, kilograms, what):
    """3 lb 4 oz was once three pounds of "4 oz"; 0.45359237 kg a pound, a sixteenth of it an ounce."""
    assert named_amount(text, "honey", None) == {"what": what, "kg": pytest.approx(kilograms, abs=1e-6)}


@pytest.mark.parametrize(
    ("text", "kind", "litres"),
    [
        ("5 l jug", "jug", 5),
        ("glass carboy 23 l", "carboy", 23),
        ("carboy: 23 l", "carboy", 23),
        ("plastic bucket (30 l)", "bucket", 30),
        ("1 US gal jug", "jug", 3.7854),
        ("Jug", "jug", None),
    ],
)
def test_a_vessel_is_known_by_its_kind_however_it_is_written(text, kind, litres):
    """The rules on glass look for a carboy; under "carboy:" or "glass carboy" they were silent."""
    vessel = vessel_of(text, None)
    assert vessel["kind"] == kind and vessel.get("capacity_l") == litres


def test_what_a_vessel_is_of_stays_on_record():
    """Its kind alone is judged by, what was typed is kept beside it."""
    assert typed("glass carboy 23 l") == "glass carboy 23 l" and typed("carboy 23 l") is None


@pytest.mark.parametrize("gallon", ["1 gallon (US)", "1 US gal.", "1gal(us)"])
def test_a_gallon_is_named_in_brackets_too(gallon):
    """3.785411784 l by law."""
    assert volume_l(gallon, None) == 3.7854


LINE = "12 x 330ml 5 l jug , ( ) - 0 lb oz 1/0 ½ ⅔ ٤ us gal tsp of kg NaN"


@given(st.text(max_size=70) | st.lists(st.sampled_from(LINE.split()), max_size=7).map(" ".join))
def test_any_text_is_read_or_refused_in_one_line(text):
    """A lone comma was once answered in the words of the program's insides."""
    for read in (amount_of, volume_l, vessel_of, lot_of):
        _read_or_refused(lambda read=read: read(text, None))
    _read_or_refused(lambda: named_amount(text, "honey", None))
    _read_or_refused(lambda: mass_g(text))


def _read_or_refused(read):
    try:
        read()
    except ValueError as refusal:
        assert "\n" not in str(refusal)
