"""The words for where a batch stands: facts not recorded are named, and the danger word is a word."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sample_story import PINNED, lines

from mustwatch.batches.fold import fold
from mustwatch.batches.settings import Settings
from mustwatch.batches.standing import ago, standing
from mustwatch.batches.telling import told, told_with_note
from mustwatch.ledger.events import MODELS, parse

CELLAR = fold([parse(line) for line in lines()], Settings(), PINNED)


def test_a_seal_and_an_unknown_closure_are_written_in_capitals() -> None:
    """They must be seen without colour, in a list, from a metre away."""
    words = {tag: dict(standing(batch, PINNED))["closure"] for tag, batch in CELLAR.batches.items()}
    assert "SEALED" in words["lime-blossom"]
    assert words["bean-flower"].startswith("NOT KNOWN")
    assert words["acacia-1"].startswith("airlock (vented")


def test_every_batch_of_the_sample_has_a_line_for_each_question() -> None:
    """No fact is left out silently: what is not known says so."""
    for batch in CELLAR.batches.values():
        labels = [label for label, text in standing(batch, PINNED) if text]
        assert {"stage", "closure", "gravity", "alcohol", "yeast", "warmth", "vessel"} <= set(labels)


@pytest.mark.parametrize(
    ("gone", "words"), [(0.2, "now"), (5, "5h"), (47, "47h"), (49, "2d"), (24 * 59, "59d"), (24 * 70, "10w")]
)
def test_ages_fit_a_narrow_column(gone: float, words: str) -> None:
    """Four characters at most, so that the list keeps its shape."""
    assert ago(PINNED - timedelta(hours=gone), PINNED) == words


def test_every_kind_of_event_has_its_own_words() -> None:
    """A story with an untold kind would have a hole."""
    seen = {type(event) for batch in CELLAR.batches.values() for event in batch.story}
    assert len(seen) >= 12
    for batch in CELLAR.batches.values():
        for event in batch.story:
            assert told(event) and "does not know" not in told(event)
            assert (event.note or "") in told_with_note(event)
    from mustwatch.batches import telling

    assert set(telling._TELLERS) == set(MODELS.values())
