"""The story: every kind of event in words, unknown ones as they are."""

from screens.small_cellar import FERMENTING, NOW, ago, batch, numbered
from screens.text import text_of

from mustwatch.cellar.fold import fold
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.settings import Settings
from mustwatch.screens.round.story import story_lines


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
