"""The story: every kind of event in words, unknown ones as they are."""

import pytest
from screens.small_cellar import FERMENTING, NOW, ago, batch, numbered

from mustwatch.cellar.fold import fold
from mustwatch.ledger.events import KINDS, draft, parse
from mustwatch.ledger.settings import Settings
from mustwatch.screens.ink import text_of
from mustwatch.screens.round.story import story_lines, words_of

OWN = {
    "removed": {"what": "oak"}, "added": {"what": "honey", "category": "honey", "g": 300},
    "closed": {"closure": "airlock", "liquid": "vodka"}, "hushed": {"rule": "stalled", "until": ago(-3)},
    "amended": {"target": "x"}, "withdrew": {"target": "x"}, "ended": {"outcome": "drunk"},
    "instrument": {"name": "glass"}, "took": {"count": 2, "why": "given"}, "moved": {"place": "cellar"},
    "bottled": {"lots": [{"size_ml": 750, "count": 6, "bottle": "still-wine"}], "style": "still"},
    "tasted": {"nose": "pear", "score_of_10": 7}, "racked": {"vessel": {"kind": "jug"}, "lees_l": 0.3},
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_words(kind):
    """A new kind may be plain, never blank or a crash."""
    said = words_of(draft(kind, NOW, "quiet-1", **OWN.get(kind, {})), Settings())
    assert said.strip()


def test_an_unknown_kind_is_shown_as_it_is():
    """A newer program's lines survive and are seen."""
    event = parse(b'{"v":1,"id":"a","at":"2026-03-01T08:00:00Z","batch":"fir","kind":"frozen","depth":3}')
    assert words_of(event, Settings()) == "frozen depth 3"


def test_the_newest_comes_first_with_notes_beneath():
    """What was last done is what one looks for."""
    events = [*batch("quiet-1", 9, FERMENTING), draft("noted", ago(0.1), "quiet-1", note="first line\nsecond line")]
    text = text_of(story_lines(fold(numbered(events), Settings(), NOW).batches["quiet-1"], Settings(), NOW, 60))
    assert text.index("second line") < text.index("read 1.055") < text.index("pitched")


def test_a_day_of_thermometer_lines_is_one_line():
    """A probe that reports every ten minutes must not bury the story."""
    events = batch("quiet-1", 9, FERMENTING)
    events += [draft("read", ago(0.3 + number / 1440), "quiet-1", must_c=18 + number % 3) for number in range(200)]
    lines = text_of(
        story_lines(fold(numbered(events), Settings(), NOW).batches["quiet-1"], Settings(), NOW, 60)
    ).splitlines()
    assert len(lines) < 20
    assert "18 °C to 20 °C (200 readings)" in lines[0]


def test_a_reading_is_told_once_where_its_correction_changes_nothing():
    """An arrow from a number to the same number tells nothing."""
    events = batch("quiet-1", 9, FERMENTING)
    gravity = {"value": 1.050, "scale": "sg", "sample_c": 35}
    events += [draft("read", ago(0.1), "quiet-1", gravity=gravity)]
    text = text_of(story_lines(fold(numbered(events), Settings(), NOW).batches["quiet-1"], Settings(), NOW, 60))
    assert "read 1.050 at 35 °C -> 1.055" in text
    assert "read 1.055 at 20 °C, must" in text
