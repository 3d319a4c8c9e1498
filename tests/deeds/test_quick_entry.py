"""Quick entry: what one typed line means, and that nothing unclear is ever guessed."""

from __future__ import annotations

import json
from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.cellar.fold import Cellar
from mustwatch.deeds.ground import Ground
from mustwatch.deeds.quick_entry import parse_entry, parse_words
from mustwatch.ledger.codec import encode
from mustwatch.ledger.settings import Settings

NOW = datetime(2026, 5, 14, 20, 0, tzinfo=timezone(timedelta(hours=2)))


def _ground(settings: Settings | None = None) -> Ground:
    return Ground("fir", Cellar(NOW, settings or Settings()), NOW)


def _kept(text: str, settings: Settings | None = None) -> list[dict]:
    entry = parse_entry(text, _ground(settings))
    assert not entry.questions, entry.questions
    return [json.loads(encode(event)) for event in entry.events]


@pytest.mark.parametrize(
    ("text", "gravity"),
    [
        ("1.042", {"value": 1.042, "scale": "sg"}),
        ("1042", {"value": 1.042, "scale": "sg"}),
        ("1,042", {"value": 1.042, "scale": "sg"}),
        ("0.996", {"value": 0.996, "scale": "sg"}),
        ("1.09", {"value": 1.09, "scale": "sg"}),
        ("1.1", {"value": 1.1, "scale": "sg"}),
        ("996", {"value": 0.996, "scale": "sg"}),
        ("10.5Bx", {"value": 10.5, "scale": "brix"}),
        ("10,5 bx", {"value": 10.5, "scale": "brix"}),
        ("10.5P", {"value": 10.5, "scale": "plato"}),
        ("-0.5P", {"value": -0.5, "scale": "plato"}),
    ],
)
def test_gravity_is_read_on_every_scale_as_people_write_it(text: str, gravity: dict) -> None:
    """The decimal comma and the missing point are habits, not faults."""
    assert _kept(text)[0]["gravity"] == gravity


def test_the_long_example_of_the_contract_is_understood_whole() -> None:
    """One look at a batch, as one line."""
    read, seen, swirled = _kept('1042 70F pH3.6 swirled bubbling "smells of pear" @yesterday 21:00')
    assert read["gravity"] == {"value": 1.042, "scale": "sg", "sample_c": 21.11}
    assert (read["ph"], read["note"], read["typed"]) == (3.6, "smells of pear", "1042 70F")
    assert read["at"] == "2026-05-13T21:00:00+02:00"
    assert (seen["kind"], seen["airlock"], swirled["kind"]) == ("seen", "bubbling", "swirled")


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("12", "12Bx"),
        ("21", "21C"),
        ("1.42", "lost"),
        ("1.7", "lost"),
        ("0.5", "0.5Bx"),
        ("104", "lost"),
        ("1.250", "0.980 to 1.180"),
        ("1.050 1.060", "which one"),
        ("+2 gal water", "imperial"),
        ("+5 nutrient", "how much"),
        ("+5g", "of what"),
        ("wirled", "did you mean swirled"),
        ("foam smells of pear", "quotes"),
        ("closed bung", "solid-bung"),
        ("300C", "no temperature"),
        ("21C 22C 23C 1.050 24C", "more temperatures"),
        ("sample 21C", "without a gravity"),
        ("@tomorrow 1.050", "no time I know"),
        ("@22:30 1.050", "still to come"),
        ("@25:00 1.050", "no time I know"),
        ("", "nothing to save"),
        ('""', "nothing to save"),
    ],
)
def test_what_is_unclear_is_asked_and_nothing_is_kept(text: str, asks: str) -> None:
    """A guess in the diary is worse than a question."""
    entry = parse_entry(text, _ground())
    assert not entry.events
    assert asks in " ".join(entry.questions)


def test_a_bare_temperature_is_the_samples_beside_a_gravity_and_the_musts_alone() -> None:
    """That is what one means standing at the jug; it is said back before saving."""
    assert _kept("21C")[0]["must_c"] == 21
    both = _kept("1.050 21C 19C")[0]
    assert (both["gravity"]["sample_c"], both["must_c"]) == (21, 19)
    assert _kept("must 19C 1.050 21C")[0] == _kept("1.050 21C 19C")[0]


def test_a_settled_gallon_needs_no_question() -> None:
    """The cellar's settings answer it once for all; 4.546 and 3.785 l are the legal definitions."""
    assert _kept("+1 gal water", Settings(gallon="imperial"))[0]["l"] == pytest.approx(4.5461)
    assert _kept("+1 gal water", Settings(gallon="us"))[0]["l"] == pytest.approx(3.7854)
    assert _kept("+1 US gal water")[0]["l"] == pytest.approx(3.7854)


def test_what_was_understood_is_told_with_the_corrected_gravity() -> None:
    """Seen before it is saved: a 25 Brix sugar solution reads 1.1022 at 30 C and is 1.1056 at 20 C (ICUMSA)."""
    told = "; ".join(parse_entry("1.1022 30C", _ground()).understood)
    assert told == "read 1.1022 at 30 °C -> 1.106; hydrometer made for 20 °C, assumed"
    assert "assumed" not in "; ".join(parse_entry("1.100 29C", _ground(Settings(hydrometer_c=20))).understood)
    assert "not corrected: sample temperature must be" in parse_entry("1.042 -5C", _ground()).understood[0]


def test_shell_words_with_blanks_are_notes_unless_something_in_them_is_understood() -> None:
    """The shell has taken the quotes away."""
    entry = parse_words(["1.042", "21C", 'she said "pear"', "@yesterday", "21:00"], _ground())
    assert entry.events[0].note == 'she said "pear"'
    assert parse_words(["smells of pear"], _ground()).events[0].note == "smells of pear"
    assert len(parse_words(["1.042 21C swirled"], _ground()).events) == 2


@given(st.text(max_size=80))
def test_any_text_gives_events_or_questions_and_never_an_exception(text: str) -> None:
    """Whatever a cat types on the keyboard."""
    entry = parse_entry(text, _ground())
    assert bool(entry.events) != bool(entry.questions)


@given(st.integers(980, 1180), st.integers(5, 35))
def test_every_gravity_of_a_must_is_kept_as_written(points: int, celsius: int) -> None:
    """All three spellings mean the same reading."""
    spellings = (f"{points / 1000:.3f}", f"{points}", f"{points / 1000:.3f}".replace(".", ","))
    kept = [_kept(f"{text} {celsius}C")[0]["gravity"] for text in spellings]
    assert kept == [{"value": points / 1000, "scale": "sg", "sample_c": celsius}] * 3
