"""What the rules would say, before anything is saved."""

from screens.small_cellar import NOW, ago, batch, numbered

from mustwatch.cellar.fold import fold
from mustwatch.deeds import foresight
from mustwatch.deeds.deed import Ground
from mustwatch.deeds.foresight import Foresight, foreseen
from mustwatch.ledger.drafts import draft
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


def test_what_concerns_the_whole_cellar_is_foreseen_too():
    """The air of a room is spoken of by the batch longest at work in it, whichever is carried in."""
    events = [
        *batch("old-1", 9, FERMENTING),
        draft("moved", ago(1), "old-1", place="closet"),
        *batch("new-1", 8, [1.100, 1.080, 1.060, 1.040]),
        draft("moved", ago(1), "new-1", place="hall"),
    ]
    told, settings = numbered(events), Settings(places={"closet": 1.2})
    ground = Ground("new-1", fold(told, settings, NOW), NOW, told)
    found = foreseen(ground, [draft("moved", NOW, "new-1", place="closet")])
    assert [(one.rule, one.batch) for one in found.dangers] == [("gas-in-the-room", "old-1")]


def test_what_lies_under_a_new_danger_is_not_told_beside_it():
    """One cause, one finding: bottled sweet says all that bottled too early would say."""
    events = batch("sweet-1", 9, FERMENTING)
    lots = [{"size_ml": 500, "count": 6, "bottle": "beer", "closure": "crown-cap"}]
    found = after(events, draft("bottled", NOW, "sweet-1", lots=lots))
    heads, under = found.dangers, [one for head in found.dangers for one in head.folded]
    assert heads and under and not {one.rule for one in under} & {one.rule for one in heads}


def test_a_note_of_the_cellar_asks_no_rule():
    """Nothing is judged of what concerns no batch."""
    assert foreseen(Ground(None, fold([], SETTINGS, NOW), NOW), [draft("noted", NOW, note="shelf")]) == Foresight()


def test_sugar_food_and_another_warmth_tell_where_it_would_be_heading():
    """A form answers what would follow; a closure alone shifts no course."""
    events = batch("quiet-1", 9, FERMENTING)
    for shift in (
        draft("added", NOW, "quiet-1", what="honey", category="honey", g=300.0),
        draft("moved", NOW, "quiet-1", place="shed", air_c=10.0),
    ):
        assert after(events, shift).heading[0].startswith("outlook: ")
    assert after(events, draft("closed", NOW, "quiet-1", closure="airlock")).heading == ()
