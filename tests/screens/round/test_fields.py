"""The reading form's fields: what they mean together, and what is asked back."""

import pytest
from screens.small_cellar import FERMENTING, NOW, batch, numbered

from mustwatch.cellar.fold import fold
from mustwatch.deeds.ground import Ground
from mustwatch.ledger.settings import Settings
from mustwatch.screens.round.fields import draft_of


@pytest.fixture(scope="module")
def quiet():
    """A cellar with a batch that last read 1.055."""
    return fold(numbered(batch("quiet-1", 9, FERMENTING)), Settings(), NOW)


def meant(quiet, settings=None, **fields):
    """What the fields mean for that batch."""
    cellar = quiet._replace(settings=settings or Settings())
    return draft_of(fields, Ground("quiet-1", cellar, NOW, scaled=True))


def test_nothing_typed_is_empty_and_no_fault(quiet):
    """A chosen scale alone is no entry."""
    assert meant(quiet).empty
    assert meant(quiet, scale="Bx", when="yesterday 21:00").empty


def test_all_fields_make_one_reading_and_one_look(quiet):
    """One visit, two events."""
    found = meant(quiet, gravity="1,042", sample="21", must="20", airlock="still", surface="ring", note="swirled pH3.6")
    assert not found.faults
    read, seen, swirled = found.events
    assert (read.gravity.value, read.gravity.sample_c, read.must_c, read.ph) == (1.042, 21, 20, 3.6)
    assert (seen.airlock, seen.surface, swirled.kind) == ("still", "ring", "swirled")


def test_the_change_since_the_last_reading_is_said(quiet):
    """13 points down is what one wants to know before saving."""
    assert "-13 points since the last" in meant(quiet, gravity="1.042", sample="20").understood


def test_a_reading_no_judgement_will_rest_on_says_so_before_it_is_saved(quiet):
    """A refractometer after pitching reads alcohol as sugar."""
    said = " ".join(meant(quiet, note="1.179").understood + meant(quiet, gravity="1.185").understood)
    assert "no judgement will rest on it" in said or "a must cannot be at" in said


@pytest.mark.parametrize(
    ("fields", "field", "asks"),
    [
        ({"gravity": "12"}, "gravity", "12Bx"),
        ({"gravity": "1.042", "scale": "Bx"}, "gravity", "which one?"),
        ({"gravity": "10.5P", "scale": "Bx"}, "gravity", "which one?"),
        ({"gravity": "12", "scale": "SG"}, "gravity", "12Bx"),
        ({"gravity": "1.042", "sample": "70"}, "sample", "70C or 70F"),
        ({"gravity": "1.042", "sample": "warm"}, "sample", "21C or 70F"),
        ({"gravity": "1.042", "must": "20 21"}, "must", "21C or 70F"),
        ({"sample": "21"}, "sample", "gravity"),
        ({"note": "bubling"}, "note", "bubbling"),
        ({"note": "1.042 by:nothing"}, "note", "no instrument of this name"),
        ({"note": "bubbling", "airlock": "still"}, "note", "which one?"),
        ({"note": "1.050", "gravity": "1.042"}, "note", "which one?"),
        ({"note": "must 22C", "must": "20"}, "note", "which one?"),
        ({"note": "swirled @8:00", "when": "yesterday 21:00"}, "when", "which one?"),
        ({"note": "swirled", "when": "tomorrow"}, "when", "yesterday 21:00"),
        ({"note": "swirled", "when": "23:59"}, "when", "still to come"),
        ({"note": "+1gal water"}, "note", "imperial"),
    ],
)
def test_what_is_not_clear_is_asked_about_in_one_line_beside_its_field(quiet, fields, field, asks):
    """Nothing is guessed, nothing is saved."""
    found = meant(quiet, **fields)
    assert found.events == ()
    assert field in found.faults
    assert asks in found.faults[field]
    assert "\n" not in found.faults[field]


def test_a_bare_temperature_is_in_the_scale_its_label_names(quiet):
    """The label says F in a cellar kept in Fahrenheit."""
    (read,) = meant(quiet, Settings(temperature="F"), gravity="1.042", sample="70").events
    assert read.gravity.sample_c == pytest.approx(21.11)


def test_plain_words_in_the_note_line_are_a_note(quiet):
    """Nobody types quotation marks with wet hands."""
    (noted,) = meant(quiet, note="smells of pear, a little").events
    assert (noted.kind, noted.note) == ("noted", "smells of pear, a little")


def test_words_that_could_be_an_entry_or_a_note_are_asked_about(quiet):
    """A murky must may be an observation or part of a sentence."""
    assert "in quotes" in meant(quiet, note="a little murky today").faults["note"]
    seen, *_ = meant(quiet, note='murky "a little, today"').events
    assert (seen.clarity, seen.note) == ("murky", "a little, today")


def test_the_time_of_the_when_field_is_the_time_of_all(quiet):
    """What was seen last night is dated last night."""
    events = meant(quiet, gravity="1.042", note="swirled", when="yesterday 21:00").events
    assert {event.at.isoformat() for event in events} == {"2026-05-13T21:00:00+02:00"}
