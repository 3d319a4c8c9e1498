"""The form of a calculation: inputs read as typed, refused in one line, answered in full."""

import pytest

from mustwatch.calculators.catalogue import calculation
from mustwatch.calculators.form import House, house_of
from mustwatch.calculators.kinds import key_of


def test_inputs_become_metric_values_under_keys_with_their_unit():
    result = calculation("honey").answer({"volume": "5 US gal", "target": "20Bx"})
    assert result.inputs["volume_l"] == pytest.approx(18.927, abs=0.001)
    assert result.inputs["target_sg"] == pytest.approx(1.0830, abs=0.0002)


def test_a_missing_input_is_named_with_an_example():
    with pytest.raises(ValueError, match="volume is missing: .*5 US gal"):
        calculation("honey").answer({"target": "1.100"})


def test_an_unknown_input_is_told_the_known_ones():
    with pytest.raises(ValueError, match="no input 'size'; it has volume, target"):
        calculation("honey").answer({"size": "5"})


def test_empty_text_counts_as_not_given():
    assert calculation("honey").answer({"volume": "5L", "target": "1.1", "alcohol": "  "}).result["sg"] == 1.1


@pytest.mark.parametrize(
    ("calc", "typed", "says"),
    [
        ("honey", {"volume": "5 gal", "target": "1.1"}, "volume: .*US gal or imperial gal"),
        ("honey", {"volume": "0 L", "target": "1.1"}, "volume: must be more than nothing"),
        ("honey", {"volume": "5 L", "target": "12"}, "target: .*which scale"),
        ("honey", {"volume": "5 L", "target": "1.1", "moisture": "17 g"}, "moisture: write a number in %"),
        ("correct", {"reading": "1.05", "sample": "70"}, "sample: .*70C or 70F"),
        ("pressure", {"liquid": "5L", "headspace": "0 ml", "warmest": "20C", "left": "1", "vessel": "b"}, "one of jug"),
        (
            "pressure",
            {"liquid": "5L", "headspace": "0 ml", "warmest": "20C", "left": "1", "rating": "3"},
            "3 bar or 40",
        ),
        ("sorbate", {"volume": "5L", "alcohol": "12", "ph": "3.3", "stable": "maybe"}, "yes, no or unknown"),
        ("bottles", {"volume": "5L", "sizes": "750x-3"}, "750x12"),
        ("bottles", {"volume": "5L", "sizes": "nan"}, "bottle size must be"),
        ("must", {"ingredients": "sawdust 1 kg", "water": "1L"}, "begin with one I know: .*honey"),
        ("must", {"ingredients": "honey", "water": "1L"}, "begin with one I know"),
        ("must", {"ingredients": "raspberry 1 L", "water": "1L"}, "not a liquid"),
        ("convert", {"value": "9" * 400}, "at most 300 characters"),
        ("sulfite", {"volume": "5L", "free": "10"}, "ph is missing: .*no dose without it"),
    ],
)
def test_what_cannot_be_read_is_refused_in_one_line(calc, typed, says):
    with pytest.raises(ValueError, match=says) as refused:
        calculation(calc).answer(typed)
    assert "\n" not in str(refused.value)


def test_the_cellar_settles_what_a_bare_gallon_means():
    us = calculation("honey").answer({"volume": "5 gal", "target": "1.1"}, House(gallon="us"))
    imperial = calculation("honey").answer({"volume": "5 gal", "target": "1.1"}, House(gallon="imperial"))
    assert us.inputs["volume_l"] == pytest.approx(18.927, abs=0.001)
    assert imperial.inputs["volume_l"] == pytest.approx(22.730, abs=0.001)


def test_the_cellars_own_ingredients_and_glass_count():
    class Settings:
        gallon = None
        hydrometer_c = 15.56
        library = {"ingredients": {"Hill Honey": {"category": "honey", "water_pct": 19.0}}}

    house = house_of(Settings())
    must = calculation("must").answer({"ingredients": "hill honey 1 kg", "volume": "4 L"}, house)
    assert must.result["sugar_kg"] == pytest.approx(0.81)
    with_glass = calculation("correct").answer({"reading": "1.080", "sample": "35C"}, house)
    assert not any("glass is taken as" in caution for caution in with_glass.cautions)


def test_the_keys_of_the_contract_are_complete():
    document = calculation("convert").answer({"value": "1.050"}).as_document()
    assert list(document) == ["calc", "inputs", "result", "method", "source", "range", "cautions"]


def test_a_key_does_not_stutter():
    assert key_of("volumes", "number", "volumes") == "volumes"
    assert key_of("rate", "number", "points a day") == "rate_points_per_day"
