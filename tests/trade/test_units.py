"""Quantities as people write them."""

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.units import parse_gravity, parse_mass_kg, parse_number, parse_temperature_c, parse_volume_l

UNITS = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "theirs"),
    [
        ("5 US gal", "5 gallon"), ("1 imperial gallon", "1 imperial_gallon"), ("3 US quarts", "3 quart"),
        ("2 US pints", "2 pint"), ("750 ml", "750 milliliter"), ("4,5 l", "4.5 liter"),
        ("16 US fl oz", "16 fluid_ounce"),
        ("8 imperial pints", "8 imperial_pint"), ("1/2 UK gal", "0.5 imperial_gallon"), ("23L", "23 liter"),
    ],
)  # fmt: skip
def test_volumes_are_what_pint_makes_of_them(text, theirs):
    """An independent library, so that no factor of ours checks itself."""
    assert parse_volume_l(text) == pytest.approx(UNITS.Quantity(theirs).to("liter").magnitude, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "theirs"),
    [
        ("3 lb", "3 pound"), ("1.5 kg", "1.5 kilogram"), ("12 oz", "12 ounce"), ("250g", "250 gram"),
        ("3 lb 4 oz", "52 ounce"), ("2 1/2 lbs", "2.5 pound"), ("0,33 g", "0.33 gram"), ("1,500.5 g", "1500.5 gram"),
    ],
)  # fmt: skip
def test_masses_are_what_pint_makes_of_them(text, theirs):
    """As for volumes."""
    assert parse_mass_kg(text) == pytest.approx(UNITS.Quantity(theirs).to("kilogram").magnitude, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "temp_c"), [("70F", 21.111), ("21C", 21), ("21 °C", 21), ("68 deg F", 20), ("-5c", -5), ("21,5C", 21.5)]
)
def test_temperatures_are_read_in_both_scales(text, temp_c):
    """With or without the sign."""
    assert parse_temperature_c(text) == pytest.approx(temp_c, abs=0.001)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("1.042", (1.042, "sg")), ("1042", (1.042, "sg")), ("1,042", (1.042, "sg")), ("0.996", (0.996, "sg")),
        ("996", (0.996, "sg")), ("0,996", (0.996, "sg")), ("SG 1.042", (1.042, "sg")), ("1.042 sg", (1.042, "sg")),
        ("10.5Bx", (10.5, "brix")), ("10,5 brix", (10.5, "brix")), ("10.5P", (10.5, "plato")), ("12 °P", (12, "plato")),
        ("-1.2Bx", (-1.2, "brix")), (" 1.1 ", (1.1, "sg")),
    ],
)  # fmt: skip
def test_gravities_are_read_as_they_are_written(text, meant):
    """All the ways a hydrometer is read aloud."""
    assert parse_gravity(text) == (pytest.approx(meant[0]), meant[1])


@pytest.mark.parametrize(
    ("parse", "text", "asks"),
    [
        (parse_volume_l, "5 gal", "US gal or imperial gal"),
        (parse_volume_l, "2 pints", "US pints or imperial pints"),
        (parse_volume_l, "5", "no unit of volume"),
        (parse_volume_l, "", "expected a number and a unit"),
        (parse_volume_l, "1,042 l", "write 1042 or 1.042"),
        (parse_volume_l, "-1 l", "must be 0 to 100000 L"),
        (parse_mass_kg, "3", "no unit of mass"),
        (parse_mass_kg, "3 stone", "no unit of mass"),
        (parse_mass_kg, "1/0 kg", "below the line"),
        (parse_temperature_c, "21", "Write 21C or 21F"),
        (parse_temperature_c, "900F", "must be -30 to 150"),
        (parse_temperature_c, "21K", "write 21C or 70F"),
        (parse_gravity, "12", "which scale"),
        (parse_gravity, "1.5", "which scale"),
        (parse_gravity, "5000", "is no gravity"),
        (parse_gravity, "sg 2", "must be 0.96 to 1.409"),
        (parse_gravity, "12 %", "no scale I know"),
        (parse_gravity, "nan", "expected a number"),
        (parse_gravity, "1.0.4.2", "is not a number"),
        (parse_number, "9" * 100, "at most 60 characters"),
    ],
)
def test_what_is_unclear_is_asked_in_one_line(parse, text, asks):
    """Never guessed: a gallon guessed wrong spoils a batch."""
    with pytest.raises(ValueError, match=asks) as caught:
        parse(text)
    assert "\n" not in str(caught.value)


def test_a_named_habit_answers_for_a_bare_gallon():
    """The cellar's setting may speak for the user; a word in the text outranks it."""
    assert parse_volume_l("1 gal", "us") == pytest.approx(3.785411784)
    assert parse_volume_l("1 gal", "imperial") == pytest.approx(4.54609)
    assert parse_volume_l("1 US gal", "imperial") == pytest.approx(3.785411784)


@given(st.text(max_size=80))
def test_no_text_whatever_does_more_than_ask(text):
    """Either a number in range or one line; no other error, no line break, no control character."""
    for parse in (parse_volume_l, parse_mass_kg, parse_temperature_c, parse_gravity, parse_number):
        try:
            parse(text)
        except ValueError as refusal:
            assert "\n" not in str(refusal) and "\x1b" not in str(refusal)


@given(st.floats(0.96, 1.409), st.sampled_from(["", " sg", "sg "]))
def test_any_gravity_in_range_is_read_back(sg, mark):
    """Written to four places, read to four places."""
    text = f"{mark}{sg:.4f}" if mark.startswith("sg") else f"{sg:.4f}{mark}"
    if 0.96 <= float(f"{sg:.4f}") <= 1.409:
        assert parse_gravity(text) == (pytest.approx(round(sg, 4)), "sg")
