"""The way into the ledger, without a screen: what is said to be saved is on disk, and can be taken back."""

import pytest
from screens.round.desk import parts
from screens.small_cellar import NOW, made, recorded, usual

from mustwatch.ledger.trouble import NotSaved


@pytest.fixture
def cellar(tmp_path):
    """Three batches."""
    return made(tmp_path / "cellar", usual())


def test_a_save_is_on_disk_when_it_says_so(cellar):
    """The word is a promise."""
    recorder, count = parts(cellar).recorder, len(recorded(cellar, 0))
    outcome = recorder.save([recorder.look.drafted("swirled", "quiet-1")])
    assert outcome.saved and outcome.says.startswith("saved quiet-1: swirled")
    assert [event.kind for event in recorded(cellar, count)] == ["swirled"]


@pytest.mark.parametrize(
    ("error", "says"),
    [(NotSaved("not known to be saved: look at `mustwatch events`"), "!! not known to be saved"),
     (OSError("the disk is gone"), "!! not saved: the disk is gone"), (RuntimeError(), "!! not saved: RuntimeError")],
)  # fmt: skip
def test_a_save_that_fails_says_what_is_known_of_it(cellar, monkeypatch, error, says):
    """Not saved, or not known to be saved: these are two."""
    recorder = parts(cellar).recorder

    def fails(*events):
        raise error

    monkeypatch.setattr(recorder.look.source, "append", fails)
    outcome = recorder.save([recorder.look.drafted("swirled", "quiet-1")])
    assert not outcome.saved and outcome.says.startswith(says)


def test_nothing_is_saved_where_one_only_looks_back(cellar):
    """Nothing can be added to the past."""
    recorder, count = parts(cellar, now=NOW).recorder, len(recorded(cellar, 0))
    outcome = recorder.save([recorder.look.drafted("swirled", "quiet-1")])
    assert not outcome.saved and "read-only" in outcome.says and recorded(cellar, count) == []


def test_what_was_saved_together_is_taken_back_together_and_the_one_before_is_left(cellar):
    """One visit is one entry to its maker."""
    recorder = parts(cellar).recorder
    look = recorder.look
    recorder.save([look.drafted("aerated", "quiet-1")])
    recorder.save([look.drafted("swirled", "quiet-1"), look.drafted("seen", "quiet-1", airlock="bubbling")])
    batch = look.batch("quiet-1")
    newest = recorder.newest(batch)
    assert {event.kind for event in newest} == {"swirled", "seen"}
    assert recorder.take_back(batch, newest).says.startswith("taken back: swirled")
    (before,) = recorder.newest(look.batch("quiet-1"))
    assert before.kind == "aerated"
