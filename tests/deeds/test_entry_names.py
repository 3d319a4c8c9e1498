"""Quick entry as it comes from a shell: quoted pieces, names of several words, instruments, what is taken out."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from mustwatch.cellar.fold import Cellar
from mustwatch.deeds.ground import Ground
from mustwatch.deeds.quick_entry import Entry, parse_words
from mustwatch.ledger.events import Added, Closed, Instrument, Noted, Read, Removed
from mustwatch.ledger.settings import Settings

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
GLASS = Instrument(id="glass", at=NOW, name="longglass", what="hydrometer")
CELLAR = Cellar(NOW, Settings(), instruments={"longglass": GLASS})


def _said(*words: str) -> Entry:
    return parse_words(words, Ground("fir", CELLAR, NOW))


@pytest.mark.parametrize(
    ("words", "what", "category"),
    [
        (["+1g", "potassium", "metabisulfite"], "potassium metabisulfite", "sulfite"),
        (["+1", "g", "sorbate"], "sorbate", "sorbate"),
        (["+5g", "kms"], "kms", "sulfite"),
        (["+1g", "k", "meta", "swirled"], "k meta", "sulfite"),
        (["+1g", "campden", "tablets"], "campden tablets", "sulfite"),
        (["+5g", "baking", "soda"], "baking soda", "carbonate"),
        (["+8g", "oak", "chips", "swirled"], "oak chips", "oak"),
        (["+8g", "oak chips"], "oak chips", "oak"),
        (["+2g", "DAP"], "DAP", "nutrient"),
        (["+1kg", "raspberries"], "raspberries", "fruit"),
        (["+300g", "heather", "honey"], "heather honey", "honey"),
    ],
)
def test_what_is_added_is_known_by_its_whole_name(words: list[str], what: str, category: str) -> None:
    """Sulfite entered by its chemical name must count as sulfite, or its limit is not watched."""
    added = next(event for event in _said(*words).events if isinstance(event, Added))
    assert (added.what, added.category) == (what, category)


def test_diammonium_phosphate_brings_its_nitrogen() -> None:
    """The sum of nitrogen is right whichever way the dose was entered."""
    added = _said("+2g", "DAP").events[0]
    assert isinstance(added, Added) and added.nitrogen_mg_per_g == pytest.approx(212.1, abs=0.1)


def test_a_closure_in_quotes_is_a_closure_and_no_note() -> None:
    """Somebody who quotes it believes the closure recorded; as a note it would be lost to every rule."""
    (event,) = _said("closed airlock").events
    assert isinstance(event, Closed) and event.closure == "airlock"


def test_a_measure_in_quotes_is_a_measure() -> None:
    """The same for pH and sulfite."""
    (event,) = _said("pH 3.6").events
    assert isinstance(event, Read) and event.ph == 3.6
    (event,) = _said("so2 30").events
    assert isinstance(event, Read) and event.free_so2_mg_l == 30


@pytest.mark.parametrize("note", ["still smells of pear", "foam is gone", "a clear day", "pH strip ran out"])
def test_prose_beside_a_reading_is_a_note_though_a_word_of_it_is_known(note: str) -> None:
    """What the shell's quotes held together is not torn apart over one word."""
    entry = _said("1.042", "21C", note)
    assert entry.questions == () and entry.events[0].note == note


def test_a_note_in_quotes_with_nothing_else_is_a_note() -> None:
    """No figure, no known word: word for word."""
    (event,) = _said("smells of pear").events
    assert isinstance(event, Noted)


def test_a_reading_can_say_that_a_refractometer_made_it() -> None:
    """After pitching it reads alcohol as sugar, so the judgements must know."""
    (event,) = _said("12Bx", "refractometer").events
    assert isinstance(event, Read) and event.gravity is not None and event.gravity.instrument == "refractometer"
    assert "refractometer" in _said("12Bx", "refractometer").understood[0]
    (event,) = _said("1.042", "20C", "by:longglass").events
    assert isinstance(event, Read) and event.gravity is not None and event.gravity.instrument == "longglass"


def test_an_instrument_without_a_reading_is_asked_about() -> None:
    """Nothing half said is saved."""
    assert "what did it read" in _said("refractometer").questions[0]


def test_fruit_taken_out_is_recorded() -> None:
    """The rules on fruit and oak wait for it."""
    (event,) = _said("removed", "fruit").events
    assert isinstance(event, Removed) and event.what == "fruit"
    assert "removed what" in _said("removed").questions[0]
    (event,) = _said("removed", "oak", "chips").events
    assert isinstance(event, Removed) and event.what == "oak chips"


@pytest.mark.parametrize("reading", ["99Bx", "60P", "-20Bx"])
def test_a_scale_far_from_any_must_is_asked_about(reading: str) -> None:
    """99 Brix was a slip of the finger, and no gravity of 99.0000."""
    entry = _said(reading)
    assert not entry.events and "no must" in entry.questions[0]


def test_an_option_that_log_has_not_is_answered_with_how_to_write_it() -> None:
    """`--at` and `--note` belong to the other commands."""
    assert "@yesterday" in _said("1.042", "--at", "8:30").questions[0]


def test_a_measure_without_its_figure_is_asked_for() -> None:
    """Known word, missing number."""
    assert "how much" in _said("pH").questions[0]


def test_a_note_after_a_bare_amount_is_no_name() -> None:
    """Five grams of `smells of honey` were never added."""
    assert "of what" in _said("+5g", "smells of honey").questions[0]
    added, *_ = _said("+5g", "nutrient", "smells of honey").events
    assert isinstance(added, Added) and added.what == "nutrient" and added.note == "smells of honey"


@pytest.mark.parametrize("amount", ["2 tsp", "1 packet", "3 tablets"])
def test_spoons_and_packets_are_not_turned_into_grams(amount: str) -> None:
    """A quarter spoon for five gallons in one gallon is the classic overdose: weigh it, or say it is not known."""
    assert "weigh it" in _said(f"+{amount.split()[0]}", amount.split()[1], "nutrient").questions[0]


@pytest.mark.parametrize(
    "line", ["+2 campden tablets", "+2 tablets campden", "+2 tablets of campden swirled", "+1 campden", "+1 kms"]
)
def test_tablets_are_asked_for_their_weight(line: str) -> None:
    """They differ by half, and so would the dose; the number of them is no mass."""
    entry = _said(*line.split())
    assert "how many grams" in entry.questions[0] and "weigh it" in entry.questions[0]
    assert not entry.events


def test_a_powder_that_says_nothing_is_asked_about() -> None:
    """What lands in `other` is watched by no rule."""
    entry = _said("+3g", "white", "powder")
    assert "white powder: what is it?" in entry.questions[0] and not entry.events


@pytest.mark.parametrize("line", ["+5g kms", "+1g k-meta", "+1g campden", "+1g SMB", "+2g sorbate"])
def test_the_caution_on_asthma_comes_with_sulfite_under_each_name(line: str) -> None:
    """Whoever buys it by its short name is warned as well."""
    assert any("asthma" in caution for caution in _said(*line.split()).cautions)


def test_a_sign_in_words_of_ones_own_may_hold_blanks() -> None:
    """`sign:lid domed` is what somebody sees, and it is a sign."""
    (event,) = _said("sign:lid domed").events
    assert event.kind == "seen" and event.signs == ("lid domed",)
