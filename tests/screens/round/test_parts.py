"""What the round's keys do, each part alone: what is asked, said and recorded, without a screen."""

import pytest
from screens.round.desk import parts
from screens.small_cellar import NOW, made, recorded, usual

from mustwatch.rules.finding import Finding, Severity
from mustwatch.screens.forms.screen import FormScreen


@pytest.fixture
def cellar(tmp_path):
    """Three batches, the sealed one a danger."""
    return made(tmp_path / "cellar", usual())


@pytest.fixture
def count(cellar):
    """How many events it holds at first."""
    return len(recorded(cellar, 0))


def finding(rule: str, action=None, severity=Severity.TODAY, steps=("first do this",)) -> Finding:
    """A finding of today about the sealed batch."""
    return Finding(rule, "sealed-1", severity, "says", "why", steps, "clears", action=action)


def finds(parts, monkeypatch, *found) -> None:
    """Puts other findings in the place of those of the rules."""
    monkeypatch.setattr(parts.look, "found", lambda tag: found)


def test_one_key_records_says_so_and_draws(cellar, count):
    """In that order: said is what is on disk."""
    round_ = parts(cellar)
    round_.entries.did("swirled")
    assert round_.desk.says[-1].startswith("saved sealed-1: swirled") and round_.desk.drawn == 1
    round_.entries.looked()
    assert round_.shown.cursor == 1
    assert [event.kind for event in recorded(cellar, count)] == ["swirled", "seen"]


def test_a_draft_with_a_fault_is_kept_and_its_field_is_shown(cellar, count):
    """Nothing is saved on a doubt, and nothing is lost."""
    round_ = parts(cellar)
    round_.shown.keep("sealed-1", {"gravity": "1.2x"})
    round_.entries.save_draft()
    assert round_.desk.filled == [("gravity", "")] and round_.desk.says[-1].startswith("not saved: gravity:")
    assert round_.shown.drafts == {"sealed-1": {"gravity": "1.2x"}} and recorded(cellar, count) == []


def test_a_draft_that_could_not_be_saved_is_still_there(cellar, monkeypatch):
    """A full disk is no reason to type twice."""
    round_ = parts(cellar, now=NOW)
    round_.shown.keep("sealed-1", {"gravity": "1.05"})
    round_.entries.save_draft()
    assert round_.shown.drafts == {"sealed-1": {"gravity": "1.05"}} and "read-only" in round_.desk.says[-1]


def test_taking_back_happens_only_when_it_is_asked_for(cellar, count):
    """Leaving the question leaves the entry."""
    round_ = parts(cellar)
    round_.entries.did("swirled")
    for given, kinds in ((None, ["swirled"]), ("", ["swirled"]), ("yes", ["swirled", "withdrew"])):
        round_.entries.undo()
        round_.desk.answer(given)
        assert [event.kind for event in recorded(cellar, count)] == kinds


def test_a_closure_that_lets_gas_out_is_recorded_and_a_sealed_one_goes_through_its_form(cellar, count):
    """The form shows what the rules would say of it."""
    round_ = parts(cellar)
    round_.opener.closure()
    round_.desk.answer("blow-off")
    assert [event.closure for event in recorded(cellar, count)] == ["blow-off"]
    round_.opener.closure()
    round_.desk.answer("crown-cap")
    form = round_.desk.asked[-1][0]
    assert isinstance(form, FormScreen) and form.texts["closure"] == "crown-cap"
    assert len(recorded(cellar, count)) == 1


def test_a_form_left_as_it_was_is_forgotten_and_one_typed_in_is_kept(cellar):
    """What is known may be other the next time; what was typed must not be lost."""
    round_ = parts(cellar)
    round_.opener.form("add")
    round_.desk.asked[-1][0].texts["what"] = "oak chips"
    round_.desk.answer(None)
    assert "is there when you open it again" in round_.desk.says[-1]
    round_.opener.form("add")
    assert round_.desk.asked[-1][0].texts["what"] == "oak chips"
    round_.opener.form("pitch")
    round_.desk.answer(None)
    assert len(round_.desk.says) == 1 and [place[1] for place in round_.opener._texts] == ["add"]


def test_one_finding_is_attended_to_at_once_and_of_several_it_is_asked_which(cellar, monkeypatch):
    """A question with one answer is a key too many."""
    round_ = parts(cellar)
    finds(round_, monkeypatch, finding("one", ("log", "swirled")))
    round_.attending.do()
    assert round_.desk.filled == [("note", "swirled")] and round_.desk.says[-1] == "first do this"
    finds(round_, monkeypatch, *(finding(f"rule-{number}", ("read", "")) for number in range(11)))
    round_.attending.do()
    question, _ = round_.desk.asked[-1]
    assert [answer.letter for answer in question.answers] == [*"123456789", "", ""]
    round_.desk.answer("10")
    assert round_.desk.filled[-1] == ("gravity", "")
    finds(round_, monkeypatch)
    round_.attending.do()
    assert round_.desk.says[-1] == "nothing was found about this batch"


def test_a_danger_shows_its_steps_before_any_form(cellar, monkeypatch):
    """A form says nothing of a towel over the jug; enter alone opens none."""
    round_ = parts(cellar)
    steps = ("Cover the jug.", "Fit an airlock.")
    finds(round_, monkeypatch, finding("one", ("close", "airlock"), Severity.DANGER, steps))
    round_.attending.do()
    question, _ = round_.desk.asked[-1]
    assert question.says == ("1. Cover the jug.", "2. Fit an airlock.")
    assert [answer.value for answer in question.answers] == ["", "write"] and question.marked == 0
    assert question.answers[1].words == "that is done: write it down (close airlock)"
    round_.desk.answer("")
    assert len(round_.desk.asked) == 1
    round_.desk.answer("write")
    form = round_.desk.asked[-1][0]
    assert isinstance(form, FormScreen) and form.texts["closure"] == "airlock"


@pytest.mark.parametrize("severity", [Severity.DANGER, Severity.TODAY])
def test_where_no_step_is_written_down_no_form_is_offered(cellar, monkeypatch, severity):
    """To chill bottles is no entry; a reading form in its place would be taken for the way out."""
    round_ = parts(cellar)
    finds(round_, monkeypatch, finding("one", None, severity))
    round_.attending.do()
    question, _ = round_.desk.asked[-1]
    assert question.says == ("first do this",) and [answer.value for answer in question.answers] == [""]
    round_.desk.answer(None)
    assert len(round_.desk.asked) == 1 and round_.desk.filled == []


def test_what_is_typed_in_the_note_line_is_not_written_over_by_advice(cellar, monkeypatch):
    """It is the user's."""
    round_ = parts(cellar)
    round_.shown.keep("sealed-1", {"note": "odd"})
    finds(round_, monkeypatch, finding("one", ("log", "swirled")))
    round_.attending.do()
    assert round_.desk.filled == [("note", "")]


def test_a_cellar_that_cannot_be_read_is_said_and_the_round_goes_on(cellar, monkeypatch):
    """A card pulled out must not end what is being typed."""
    round_ = parts(cellar)

    def gone():
        raise OSError("no such device")

    monkeypatch.setattr(round_.look, "is_stale", gone)
    round_.listing.catch_up(reorder=True)
    assert round_.desk.says == ["the cellar cannot be read: no such device"] and round_.desk.drawn == 0
    monkeypatch.setattr(round_.look, "again", gone)
    round_.listing.reorder()
    assert round_.desk.says[1:] == round_.desk.says[:1]


def test_a_filter_that_is_left_changes_nothing(cellar):
    """Escape is no empty filter."""
    round_ = parts(cellar)
    round_.listing.filter()
    round_.desk.answer(" quiet ")
    assert round_.shown.words == "quiet"
    round_.listing.filter()
    round_.desk.answer(None)
    assert round_.shown.words == "quiet"


def test_a_note_that_can_mean_danger_is_saved_and_then_asked_about(cellar, count):
    """One key answers; the note is on disk before."""
    round_ = parts(cellar)
    round_.shown.keep("sealed-1", {"note": '"the jug weeps at the seam"'})
    round_.entries.save_draft()
    asking = round_.desk.asked[-1][0]
    assert "does the glass leak" in " ".join(asking.says) and [one.letter for one in asking.answers] == ["y", "n", "l"]
    assert [event.kind for event in recorded(cellar, count)] == ["noted"]
    round_.desk.answer("yes")
    assert [event.kind for event in recorded(cellar, count)] == ["noted", "seen"]


def test_a_note_that_means_no_harm_is_kept_with_that_answer(cellar, count):
    """The finding does not come; the words stay."""
    round_ = parts(cellar)
    round_.shown.keep("sealed-1", {"note": '"the jug weeps at the seam"'})
    round_.entries.save_draft()
    round_.desk.answer("no")
    note, answer = recorded(cellar, count)
    assert (answer.kind, answer.target, answer.set) == ("amended", note.id, {"harmless": ["leak"]})
    assert not any(one.rule == "note-speaks-of-danger" for one in round_.look.findings)


def test_a_question_that_is_left_stays_a_finding_for_today(cellar, count):
    """Escape answers nothing."""
    round_ = parts(cellar)
    round_.shown.keep("sealed-1", {"note": '"the jug weeps at the seam"'})
    round_.entries.save_draft()
    round_.desk.answer(None)
    assert any(one.rule == "note-speaks-of-danger" for one in round_.look.findings)
    assert len(recorded(cellar, count)) == 1


def test_a_form_is_gone_before_its_note_is_asked_about(cellar, count):
    """The question stands over the list, and not under a form that closes."""
    round_ = parts(cellar)
    round_.opener.form("swirl")
    form, gone = round_.desk.asked[-1]
    form.texts["note"] = "lid bulging"
    event = round_.look.drafted("swirled", "sealed-1", note="lid bulging")
    form._save([event])
    assert len(round_.desk.asked) == 1
    form.texts.clear()
    gone(None)
    assert len(round_.desk.asked) == 2 and "bulge" in " ".join(round_.desk.asked[-1][0].says)
