"""What is taken out, where it stands and what it is read with: each by one plain command."""

from __future__ import annotations

import pytest


def _rules(run) -> list[str]:
    return [one["rule"] for one in run("check", "--json").json["findings"]]


def test_fruit_taken_out_need_not_be_pushed_under_any_more(fir) -> None:
    """The rule waits for this record, and there was no command for it."""
    fir("add", "fir", "raspberries", "1 kg", "--at", "2026-03-02")
    fir("log", "fir", "1.060", "20C", "@2026-03-05")
    assert "fruit-cap-dry" in _rules(fir)
    fir("remove", "fir", "cinnamon sticks")
    assert "fruit-cap-dry" in _rules(fir)
    said = fir("remove", "fir", "fruit")
    assert said.status == 0 and "took out fruit" in said.out
    assert "fruit-cap-dry" not in _rules(fir)


def test_a_batch_is_moved_and_the_place_is_told(fir) -> None:
    """Place, light and warmth of the air are what several rules look at."""
    assert "moved to window sill, lit" in fir("move", "fir", "window sill", "--light", "lit", "--air", "68F").out
    assert "window sill, lit" in fir("show", "fir").out
    moved = [event for event in fir("show", "fir", "--json").json["story"] if event["kind"] == "moved"][0]
    assert moved["air_c"] == pytest.approx(20.0) and moved["typed"] == "68F"


def test_a_glass_that_is_off_in_water_is_put_right_wherever_it_is_named(fir) -> None:
    """1.002 in water: two points too high, in the echo and in the batch alike."""
    fir("instrument", "longglass", "hydrometer", "--made-for", "20C", "--water", "1.002", "--at", "2026-03-01")
    said = fir("log", "fir", "1.062", "20C", "by:longglass", "@2026-03-05")
    assert "1.062 by longglass at 20 °C -> 1.060; hydrometer made for 20 °C, longglass -0.002" in said.out
    assert fir("show", "fir", "--json").json["readings"][-1]["sg"] == pytest.approx(1.060, abs=1e-5)


def test_a_refractometer_after_the_yeast_is_kept_and_not_judged_by(fir) -> None:
    """It reads alcohol as sugar."""
    fir("log", "fir", "14Bx", "refractometer", "@2026-03-10")
    shown = fir("show", "fir", "--json").json
    assert shown["readings"][-1]["doubt"] and shown["stage"] == "lag"


def test_oak_and_fruit_are_known_for_what_they_are(fir) -> None:
    """A name in the trade's words is enough; what it was taken for is said where the name does not say it."""
    assert "(fruit)" in fir("add", "fir", "raspberries", "1 kg").out
    kinds = [event["category"] for event in fir("show", "fir", "--json").json["story"] if event["kind"] == "added"]
    assert kinds == ["fruit"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["remove", "fir", " "], "took out what"),
        (["remove", "elm", "fruit"], "no batch"),
        (["move", "fir", ""], "moved where"),
        (["move", "fir", "shed", "--air", "20"], "20C"),
        (["instrument", "two words", "hydrometer"], "one word"),
        (["instrument", "g", "hydrometer", "--water", "1.2"], "near 1.000"),
        (["instrument", "g", "hydrometer", "--water", "1.002", "--offset", "1"], "give one"),
        (["instrument", "g", "sundial"], "hydrometer"),
        (["log", "fir", "1.050", "by:nothing"], "no instrument of this name"),
        (["begin", "oak", "--volume", ""], "--volume is empty"),
        (["begin", "oak", "--volume", "-3l"], "got -3"),
        (["begin", "oak", "--volume", "50 l", "--vessel", "jug 5 l"], "which is right"),
        (["rack", "fir", "--into", "jug 4 l", "--volume", "400 l"], "which is right"),
        (["rack", "fir", "--into", ""], "--into is empty"),
        (["pitch", "fir", "--yeast", ""], "--yeast is empty"),
        (["pitch", "fir", "--amount", "-5g"], "got -0.005"),
        (["pitch", "fir", "--range", "cool"], "15C-24C"),
        (["add", "fir", ""], "added what"),
        (["add", "fir", "nutrient", "2"], "of what unit"),
        (["add", "fir", "nutrient", "-2g"], "-2g"),
        (["add", "fir", "nutrient", "1 tsp"], "weigh it"),
        (["pitch", "fir", "--amount", "2 packets"], "weigh it"),
        (["add", "fir", "nutrient", ""], "empty"),
        (["bottle", "fir", "0 x 750 ml"], "no bottles"),
        (["bottle", "fir", "6 x 12 fl oz beer"], "imperial"),
        (["bottle", "fir", "6 x 750 ml beer", "--priming", "-2g"], "got -0.002"),
        (["take", "fir", "-1"], "at least 1"),
        (["end", "fir"], "OUTCOME"),
    ],
)
def test_slips_are_answered_with_one_line_and_save_nothing(fir, words: list[str], says: str) -> None:
    """Blank options, lost units, lost signs: one line that says what would be right."""
    before = fir("events").out
    ran = fir(*words)
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err and ran.err.count("\n") == 1
    assert fir("events").out == before


def test_a_range_may_name_its_scale_once_and_lie_below_zero(fir) -> None:
    """15-24C is how people write it."""
    for text, low in (("15-24C", 15.0), ("59F-75F", 15.0), ("-1C-24C", -1.0)):
        assert fir("pitch", "fir", "--range", text).status == 0, text
        pitched = [event for event in fir("show", "fir", "--json").json["story"] if event["kind"] == "pitched"][-1]
        assert pitched["yeast"]["low_c"] == pytest.approx(low)


def test_bottles_of_fluid_ounces_are_read(fir) -> None:
    """12 US fluid ounces are 355 ml (NIST SP 811: 29.5735 ml each)."""
    said = fir("bottle", "fir", "12 x 12 US fl oz beer crown-cap")
    assert "12 x 355 ml beer crown-cap" in said.out
