"""What the rules would say, before anything is saved."""

from screens.small_cellar import NOW, batch, numbered

from mustwatch.cellar.fold import fold
from mustwatch.deeds import foresight
from mustwatch.deeds.deed import Ground
from mustwatch.deeds.foresight import foreseen
from mustwatch.ledger.events import draft
from mustwatch.ledger.settings import Settings

FERMENTING = [1.100, 1.085, 1.070, 1.055]
SETTINGS = Settings()


def after(events: list, *drafts):
    """What these drafts would change."""
    told = numbered(events)
    return foreseen(Ground(events[0].batch, fold(told, SETTINGS, NOW), NOW, told), drafts)


def test_a_seal_on_a_live_batch_is_a_danger_foreseen():
    """The rule itself says so, on a copy; the batch in hand is untouched."""
    events = batch("quiet-1", 9, FERMENTING)
    found = after(events, draft("closed", NOW, "quiet-1", closure="solid-bung"))
    assert [one.rule for one in found.dangers] == ["sealed-while-alive"]


def test_an_airlock_on_a_live_batch_is_none():
    """The near miss stays quiet."""
    found = after(batch("quiet-1", 9, FERMENTING), draft("closed", NOW, "quiet-1", closure="airlock"))
    assert (found.dangers, found.others, found.gone, found.trouble) == ((), (), (), "")


def test_what_would_end_a_danger_is_told():
    """The right deed gets its word too."""
    events = batch("sealed-1", 9, FERMENTING, closure="tight-cap")
    found = after(events, draft("closed", NOW, "sealed-1", closure="airlock"))
    assert "sealed-while-alive" in found.gone


def test_another_seal_over_a_seal_is_a_danger_again():
    """It rests on what is saved now, so it is said now, though it was there before."""
    events = batch("sealed-1", 9, FERMENTING, closure="tight-cap")
    found = after(events, draft("closed", NOW, "sealed-1", closure="cork"))
    assert [one.rule for one in found.dangers] == ["sealed-while-alive"]


def test_rules_that_fail_do_not_stop_a_fact_and_are_not_taken_for_silence(monkeypatch):
    """Not known is not safe: it is said."""

    def broken(*given):
        raise RuntimeError("out of order")

    monkeypatch.setattr(foresight, "judge_cellar", broken)
    found = after(batch("quiet-1", 9, FERMENTING), draft("closed", NOW, "quiet-1", closure="cork"))
    assert found.trouble == "out of order"
