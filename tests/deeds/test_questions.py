"""What is asked at the entry of a note, and what the answers record."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from mustwatch.cellar.fold import fold
from mustwatch.deeds.ground import Ground
from mustwatch.deeds.questions import affirmed, denied, questions
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event, Seen
from mustwatch.ledger.settings import Settings
from mustwatch.rules.engine import judge_cellar

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
MIXED = stamped(
    draft("mixed", NOW - timedelta(days=9), "fir", volume_l=4.0, vessel={"kind": "jug", "capacity_l": 5.0}), "e1", 1
)


def _ground(*events: Event) -> Ground:
    told = [MIXED, *events]
    return Ground("fir", fold(told, Settings(), NOW), NOW, told)


def _note(text: str, at: datetime = NOW) -> Event:
    return draft("noted", at, "fir", note=text)


def test_a_note_of_a_leak_asks_whether_the_glass_leaks() -> None:
    """In the words of the one table."""
    (question,) = questions(_ground(), [_note("weeping at the seam")])
    assert question.asks == "The note speaks of a leak or a crack: does the glass leak, or is it cracked, now?"


def test_two_questions_at_most_the_worse_first() -> None:
    """Whoever is asked five answers blindly; the rest is found by the rule."""
    asked = questions(_ground(), [_note("jug leaks. lid bulging. mould on top. screw cap on tight")])
    assert [question.topic for question in asked] == ["lid", "leak"]


def test_what_the_entry_answers_itself_is_not_asked() -> None:
    """`closed airlock` beside it says what closes the jug."""
    entry = [draft("closed", NOW, "fir", closure="airlock", note="screw cap on tight until now")]
    assert questions(_ground(), entry) == ()


def test_a_diary_is_not_asked_of_as_if_it_were_now() -> None:
    """Two days on each side: what is older is found by the rule, if nothing answered it."""
    young, old = (_note("jug leaks", NOW - timedelta(hours=hours)) for hours in (47, 48))
    assert questions(_ground(), [young]) and questions(_ground(), [old]) == ()


def test_yes_records_a_look_that_the_rules_judge() -> None:
    """The verdict rests on it, not on the note."""
    entry = [_note("weeping at the seam")]
    (question,) = questions(_ground(), entry)
    look = affirmed(question, entry)
    assert isinstance(look, Seen) and look.signs == ("leaking",)
    saved = [stamped(event, f"f{number}", number) for number, event in enumerate([*entry, look], 2)]
    found = {one.rule: one.severity.word for one in judge_cellar(_ground(*saved).cellar, NOW)}
    assert found["leaking-glass"] == "danger" and "note-speaks-of-danger" not in found


def test_no_keeps_the_note_and_the_finding_does_not_come() -> None:
    """The answer is kept with the note; without an answer it is for today."""
    entry = [_note("weeping at the seam")]
    (question,) = questions(_ground(), entry)
    mild = stamped(denied(question, entry), "f1", 2)
    assert mild.note == "weeping at the seam" and mild.harmless == ("leak",)
    for event, wanted in ((mild, set()), (stamped(entry[0], "f1", 2), {"note-speaks-of-danger"})):
        found = {one.rule for one in judge_cellar(_ground(event).cellar, NOW) if one.severity.word == "today"}
        assert found & {"note-speaks-of-danger"} == wanted


def test_every_yes_is_an_event_that_answers_its_own_question() -> None:
    """Else the note would be asked about again beside the look it led to."""
    from mustwatch.deeds.questions import Question
    from mustwatch.entry.danger.matcher import TOPICS
    from mustwatch.judgement.spoken import answers

    entry = [_note("x")]
    for topic in TOPICS:
        assert answers(affirmed(Question(0, topic), entry), topic), topic
