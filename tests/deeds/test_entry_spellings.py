"""Quick entry with wet hands: the spellings people use are read, and what two things could be meant by is asked."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.cellar.fold import Cellar
from mustwatch.deeds.ground import Ground
from mustwatch.deeds.quick_entry import Entry, parse_words
from mustwatch.ledger.settings import Settings

NOW = datetime(2026, 6, 3, 12, tzinfo=UTC)  # a Wednesday


def _said(*words: str) -> Entry:
    return parse_words(words, Ground("fir", Cellar(NOW, Settings()), NOW))


def _understood(*words: str) -> str:
    entry = _said(*words)
    assert entry.questions == ()
    return "; ".join(entry.understood)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("SG 1.042", "read 1.042"),
        ("sg1.042", "read 1.042"),
        ("1.042sg", "read 1.042"),
        (".998", "read 0.998"),
        ("1.042 70 °F", "at 21.1 °C"),
        ("1.042 21℃", "at 21 °C"),
        ("1.042 21ºC", "at 21 °C"),
        ("1.042 @ 21C", "at 21 °C"),
        ("１.０４２ 21C", "read 1.042 at 21 °C"),
        ("1,042, 21,5C, pH 3,6", "read 1.042 at 21.5 °C"),
        ("10.5 °P", "10.5 P"),
        ("must:20C", "must 20 °C"),
        ("must 20 C", "must 20 °C"),
        ("so2 30ppm", "free SO2 30 mg/L"),
        ("so2 30 mg/l", "free SO2 30 mg/L"),
        ("TA 6.5 g/l", "acid 6.5 g/L"),
        ("airlock: bubbling", "looked: airlock bubbling"),
        ("swirled, bubbling.", "looked: airlock bubbling; swirled"),
        ("pushed cap", "pushed the cap under"),
        ("punched down", "pushed the cap under"),
        ("smell:pear,", "smell of pear"),
    ],
)
def test_usual_spellings_are_read(line: str, told: str) -> None:
    """Signs, commas and units as they come off a keyboard; each has one meaning only."""
    assert told in _understood(*line.split())


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("closed solid bung", "closed with solid-bung"),
        ("closed with an airlock", "closed with airlock"),
        ("closed swing top", "closed with swing-top"),
        ("closed Crown-Cap", "closed with crown-cap"),
    ],
)
def test_a_closure_is_known_in_two_words_and_with_small_ones_between(line: str, told: str) -> None:
    """In quotes as well: a closure that ended as a note would be an alarm for nothing, or none for danger."""
    assert told in _understood(*line.split())
    assert told in _understood(line)


@pytest.mark.parametrize(
    ("line", "grams", "what"),
    [
        ("+1lb 4oz honey", 566.99, "honey"),
        ("+3 lb 4 oz heather honey", 1474.175, "heather honey"),
        ("+3lb4oz honey", 1474.175, "honey"),
        ("+1/2 lb honey", 226.796, "honey"),
        ("+1 1/2 lb honey", 680.389, "honey"),
        ("+1½lb honey", 680.389, "honey"),
        ("+300 g of honey", 300, "honey"),
        ("+5g yeast nutrient", 5, "yeast nutrient"),
        ("+5g dry yeast", 5, "dry yeast"),
        ("+8 g medium toast oak chips swirled", 8, "medium toast oak chips"),
        ("+5g nutrient, swirled", 5, "nutrient"),
    ],
)
def test_the_whole_amount_and_the_whole_name_are_kept(line: str, grams: float, what: str) -> None:
    """1 lb 4 oz of honey was once kept as a pound of "4oz honey". Pounds: 0.45359237 kg, 16 ounces."""
    entry = _said(*line.split())
    assert entry.questions == ()
    (added,) = [event for event in entry.events if event.kind == "added"]
    assert (added.what, added.g) == (what, pytest.approx(grams, abs=0.01))


def test_juice_is_added_by_volume_under_its_own_name() -> None:
    """Apple is a fruit, apple juice is a juice."""
    (added,) = _said("+0.5l", "apple", "juice").events
    assert (added.what, added.category, added.l) == ("apple juice", "juice", 0.5)


@pytest.mark.parametrize(
    ("line", "asks"),
    [
        ("closed swing top, hissed", "hissed"),
        ("bubbling still", "airlock bubbling and still: which one"),
        ("pH3.6 pH3.8", "3.6 and 3.8: which one"),
        ("closed airlock closed cork", "airlock and cork: which one"),
        ("1.042 @yesterday @today", "two times"),
        ("pH36", "did you mean pH3.6"),
        ("must 20", "must 20C or must 20F"),
        ("ta 6.5 ppm", "expected g/l"),
        ("+0g nutrient", "nothing at all"),
        ("+5g swirled", "of what"),
        ("+2tsp nutrient", "weigh it"),
        ("+5 fl oz juice", "differ by 4 %"),
        ("+999999999g honey", "must be 0 to"),
        ("cloudy", "murky or hazy"),
        ("smell pear", "smell:pear"),
        ("1.042 yesterday", "written with @"),
        ("add 5g nutrient", "+5g nutrient"),
        ("1.042 @13:00", "@yesterday 13:00"),
    ],
)
def test_what_could_mean_two_things_is_asked(line: str, asks: str) -> None:
    """The later word of two that exclude each other was once taken without a sound."""
    entry = _said(*line.split())
    assert not entry.events and asks in " ".join(entry.questions)


def test_a_closure_in_a_quoted_sentence_is_no_note() -> None:
    """A swing-top on a live ferment was once kept as words."""
    assert "hissed" in _said("1.042", "closed swing top, hissed").questions[0]


def test_words_nobody_knows_are_asked_about_together() -> None:
    """One slip in quoting is one question, not one a word."""
    (question,) = _said("1.042", "foam", "smells", "of", "pear").questions
    assert question.startswith("smells, of, pear: not words I know here.")


def test_a_blank_word_is_nothing_to_save() -> None:
    """It was once answered in the words of the program's insides."""
    (question,) = _said(" ").questions
    assert question.startswith("nothing to save")


LINE = (
    "1.042 21C 70 °F @ @yesterday 21:00 8pm @3 days ago +5g + +3 lb 4 oz of honey nutrient closed solid bung with a "
    "removed fruit by:g smell:x must air pH 3,6 so2 mg/l bubbling still , . SG cap pushed ½ ٤ -5 +1/0lb"
)


@given(st.lists(st.sampled_from(LINE.split()), max_size=8), st.booleans())
def test_known_words_in_any_order_give_events_or_questions(words: list[str], quoted: bool) -> None:
    """Never both, never neither, never an exception; in one pair of quotes or in none."""
    entry = _said(" ".join(words)) if quoted else _said(*words)
    assert bool(entry.events) != bool(entry.questions)
