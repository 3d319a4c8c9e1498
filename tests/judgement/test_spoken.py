"""What notes say that can mean danger, and what answers it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import fold
from mustwatch.judgement.spoken import open_words, questions_of, where_at
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.settings import Settings

START = datetime(2026, 3, 1, 9, tzinfo=UTC)


def _batch(*told: tuple[float, str, dict[str, Any]]) -> Batch:
    made = [(0.0, "mixed", {"volume_l": 4.0, "vessel": {"kind": "jug", "capacity_l": 5.0}}), *told]
    drafts = [draft(kind, START + timedelta(days=day), "fir", **keys) for day, kind, keys in made]
    events = [stamped(event, f"e{number}", number) for number, event in enumerate(drafts, 1)]
    return fold(events, Settings(), START + timedelta(days=400)).batches["fir"]


def _open(*told: tuple[float, str, dict[str, Any]], day: float = 30.0) -> list[str]:
    return [spoken.topic for spoken in open_words(_batch(*told), START + timedelta(days=day))]


@pytest.mark.parametrize(
    ("note", "kind", "keys", "answered"),
    [
        ("lid bulging", "closed", {"closure": "airlock"}, True),
        ("lid bulging", "seen", {"airlock": "bubbling"}, True),
        ("lid bulging", "seen", {"airlock": "still"}, False),
        ("airlock blocked", "seen", {"airlock": "still"}, True),
        ("airlock blocked", "seen", {"surface": "ring"}, False),
        ("mould on top", "seen", {"surface": "rafts"}, True),
        ("mould on top", "seen", {"airlock": "bubbling"}, False),
        ("mould on top", "racked", {"volume_l": 4.0}, False),
        ("jug leaks", "racked", {"volume_l": 4.0}, True),
        ("jug leaks", "noted", {"note": "no leak, it was rain"}, True),
        ("jug leaks", "noted", {"note": "smells of pear"}, False),
        ("vinegary", "seen", {"smell": ["pear"]}, True),
        ("mould on top", "seen", {"signs": ["all well"]}, True),
        ("jug leaks", "seen", {"signs": ["all well"]}, True),
        ("jug leaks", "seen", {"signs": ["dizzy"]}, False),
        ("jug leaks", "seen", {"signs": ["still leaking"]}, True),
        ("jug leaks", "seen", {"signs": ["no leak"]}, True),
        ("screw cap on tight", "closed", {"closure": "airlock"}, True),
    ],
)
def test_a_note_is_answered_by_a_look_at_the_thing_it_names(
    note: str, kind: str, keys: dict[str, Any], answered: bool
) -> None:
    """A look at the airlock says nothing of mould, and racking does not take it away."""
    assert (_open((1, "noted", {"note": note}), (2, kind, keys), day=3) == []) is answered


def test_the_answer_at_the_entry_is_kept_with_the_note() -> None:
    """Nobody is asked the same twice; the note stays word for word."""
    asked = {"note": "jug leaks", "harmless": ["leak"]}
    assert _open((1, "noted", asked)) == [] and _open((1, "noted", {"note": "jug leaks"})) == ["leak"]


def test_an_answer_counts_for_its_own_danger_alone() -> None:
    """`It does not leak` says nothing of the fur."""
    assert _open((1, "noted", {"note": "jug leaks, fur on top", "harmless": ["leak"]})) == ["mould"]


@pytest.mark.parametrize(("days", "answered"), [((8.0, 9.0), True), ((7.9, 9.0), False), ((8.0, 8.1), False)])
def test_two_looks_on_two_days_a_week_on_end_an_old_note(days: tuple[float, float], answered: bool) -> None:
    """Somebody stood before it twice and wrote nothing down: the boundary on each side."""
    looks = [(day, "read", {"gravity": {"value": 1.05}}) for day in days]
    assert (_open((1, "noted", {"note": "jug leaks"}), *looks) == []) is answered


def test_a_probe_is_nobody_who_looks() -> None:
    """A thermometer sees no crack."""
    probes = [(day, "read", {"must_c": 20.0, "probe": "jug"}) for day in (9.0, 10.0, 11.0)]
    assert _open((1, "noted", {"note": "jug leaks"}), *probes) == ["leak"]


def test_what_a_word_means_rests_on_where_the_drink_was_then() -> None:
    """`Fizzy` of a ferment stays harmless when the batch is bottled later."""
    bottled = (60, "bottled", {"lots": [{"size_ml": 750, "count": 6}], "style": "still"})
    told = [(2, "noted", {"note": "fizzy"}), bottled, (90, "noted", {"note": "fizzy"})]
    batch = _batch(*told)
    assert [spoken.event.at.day for spoken in open_words(batch, START + timedelta(days=91))] == [30]
    assert where_at(batch, START).vessel and not where_at(batch, START + timedelta(days=90)).vessel


def test_words_of_a_look_are_judged_as_a_look_and_not_asked_about() -> None:
    """There they are what was seen."""
    assert questions_of(_batch(), "jug leaks", "seen", START) == []
    assert questions_of(_batch(), "jug leaks", "read", START) == ["leak"]
