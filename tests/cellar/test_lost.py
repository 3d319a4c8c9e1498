"""Entries that cannot be used: what they may have told of a closure or of sugar is not known, which is no comfort."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from mustwatch.cellar.batch import Lost
from mustwatch.cellar.fold import fold
from mustwatch.cellar.lost import salvaged
from mustwatch.cellar.rest import woken_at
from mustwatch.ledger.clock import next_id
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.trouble import Trouble

T0 = datetime(2026, 3, 1, 8, tzinfo=UTC)
NOW = T0 + timedelta(days=20)
LINE = '{"v":1,"id":"%s","seq":9,"at":"2026-03-10T08:00:00Z","batch":"fir","kind":"closed","closure":"tight-cap"}'


def told(day: float, kind: str, event_id: str = "", **keys) -> Event:
    """An entry about fir, stamped when it happened."""
    at = T0 + timedelta(days=day)
    return stamped(draft(kind, at, "fir", **keys), event_id or next_id(None, at), None)


def batch_with(*lost: Lost, closure: str = "airlock"):
    """Fir, pitched on day 0 and closed on day 5, with what was lost; looked at on day 20."""
    events = [told(0, "pitched", yeast={"label": "y"}), told(5, "closed", closure=closure)]
    return fold(events, Settings(), NOW, lost=lost).batches["fir"]


def lost(kind: str | None, day: float | None) -> Lost:
    """A damaged line about fir."""
    at = None if day is None else T0 + timedelta(days=day)
    return Lost("fir", kind, at, None, "line 3 is damaged", at)


@pytest.mark.parametrize("kind", ["closed", "racked", "mixed", "amended", "withdrew", None])
@pytest.mark.parametrize(("day", "known"), [(4.9, True), (5, False), (9, False), (None, False)])
def test_a_lost_entry_that_may_have_changed_the_closure_leaves_it_unknown(kind, day, known):
    """One flipped byte in a closure's line must not fall back to the airlock before."""
    closing = batch_with(lost(kind, day)).closing
    assert (closing.kind == "airlock") is known
    assert known or closing.why_unknown == "line 3 is damaged"


@pytest.mark.parametrize("kind", ["read", "seen", "noted", "added", "swirled"])
def test_what_cannot_have_changed_the_closure_leaves_it_as_recorded(kind):
    """An alarm for every lost note would teach to overlook alarms."""
    assert batch_with(lost(kind, 9)).closing.kind == "airlock"


def test_a_sealed_closure_stays_the_worse_of_the_two():
    """What was lost may have opened it, and may not."""
    assert batch_with(lost("closed", 9), closure="tight-cap").closing.kind == "tight-cap"


@pytest.mark.parametrize(("kind", "wakes"), [("added", True), ("pitched", True), (None, True), ("read", False)])
def test_a_lost_entry_that_may_have_been_sugar_or_yeast_takes_the_proof_of_rest_away(kind, wakes):
    """What was read before proves nothing then."""
    assert (woken_at(batch_with(lost(kind, 9))) == T0 + timedelta(days=9)) is wakes


def test_a_look_back_knows_nothing_of_what_was_lost_later():
    """It had not happened."""
    events = [told(0, "pitched", yeast={"label": "y"}), told(5, "closed", closure="airlock")]
    then = fold(events, Settings(), T0 + timedelta(days=8), lost=[lost("closed", 9)])
    assert then.batches["fir"].closing.kind == "airlock"


def test_an_entry_dated_in_the_future_leaves_the_closure_unknown_until_its_date_is_corrected():
    """A tight cap dated into next year by a slip is on the jug today."""
    slip = told(385, "closed", next_id(None, T0 + timedelta(days=9)), closure="tight-cap")
    events = [told(0, "pitched", yeast={"label": "y"}), told(5, "closed", closure="airlock"), slip]
    batch = fold(events, Settings(), NOW, live=True).batches["fir"]
    assert (batch.closing.kind, batch.closing.evidence, batch.ahead) == (None, slip.id, (slip,))
    after = told(10, "closed", closure="airlock")
    assert fold([*events, after], Settings(), NOW, live=True).batches["fir"].closing.kind == "airlock"


def trouble(text: str, kind: str = "checksum") -> Trouble:
    """A damaged line as a file reports it."""
    return Trouble("a.jsonl", 3, "left out", kind, text=text)


def test_what_can_be_read_of_a_damaged_line_is_read():
    """Tag, kind and time; of two times the later, for a flipped figure must not make it look long past."""
    event_id = next_id(None, T0 + timedelta(days=9, hours=1))
    found = salvaged(trouble(LINE % event_id))
    assert found is not None and (found.batch, found.kind, found.id) == ("fir", "closed", event_id)
    assert found.at == T0 + timedelta(days=9, hours=1)
    early = salvaged(trouble((LINE % event_id).replace("2026-03", "2016-03")))
    assert early is not None and early.at == found.at


@pytest.mark.parametrize(
    ("was", "now", "kind", "at"),
    [
        ('"kind":"closed"', '"kind":"clssed"', None, True),
        ('"kind"', '"kjnd"', None, True),
        ("2026-03-10T08:00:00Z", "2026-03-1:T08:00:00Z", "closed", False),
    ],
)
def test_what_cannot_be_read_of_it_may_be_anything(was, now, kind, at):
    """Then the worse is assumed."""
    found = salvaged(trouble((LINE % "x").replace(was, now)))
    assert found is not None and (found.kind, found.at is not None) == (kind, at)


@pytest.mark.parametrize("text", [LINE.replace('"batch":"fir"', '"batch":"F r"'), "\x00" * 40, ""])
def test_a_line_whose_batch_cannot_be_read_is_nobodys(text):
    """It is told of the cellar."""
    assert salvaged(trouble(text)) is None


def test_other_faults_of_a_file_hold_no_entry():
    """A copy left by a sync is read."""
    assert salvaged(trouble(LINE % "x", kind="copy")) is None
