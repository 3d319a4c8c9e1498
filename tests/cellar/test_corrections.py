"""Corrections: what applies, what does not, and what is told of it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from mustwatch.cellar.corrections import corrected, fitted
from mustwatch.ledger.codec import parse
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event

T0 = datetime(2026, 3, 1, 8, tzinfo=UTC)
READ = stamped(draft("read", T0, "fir", gravity={"value": 1.05}), "read", 1)


def act(kind: str, event_id: str, **keys) -> Event:
    """A correction written on the next day."""
    return stamped(draft(kind, T0 + timedelta(days=1), "fir", **keys), event_id, None)


def refusals(*acts: Event) -> list[tuple[str, str]]:
    """(id of the correction, why it changes nothing)."""
    return [(one.act.id, one.why) for one in corrected([READ, *acts]).refused]


def test_a_correction_with_a_value_that_does_not_fit_is_refused_with_its_reason() -> None:
    """The entry stays as it was, and somebody must be told."""
    found = corrected([READ, act("amended", "a", target="read", set={"gravity.value": "lots"})])
    assert found.events == [READ]
    assert [(one.act.id, one.target) for one in found.refused] == [("a", READ)]
    assert "valid number" in found.refused[0].why


@pytest.mark.parametrize("kind", ["amended", "withdrew"])
def test_a_correction_of_an_entry_that_is_not_here_is_refused(kind: str) -> None:
    """Its file may still be on its way; until then what it says counts for nothing."""
    keys = {"set": {"ph": 3.4}} if kind == "amended" else {}
    assert refusals(act(kind, "a", target="nowhere", **keys)) == [("a", "the entry it points at is not here")]


def test_a_correction_of_a_correction_is_refused() -> None:
    """What a correction says cannot be amended; taken back it can be."""
    first = act("amended", "a", target="read", set={"ph": 3.4})
    again = act("amended", "b", target="a", set={"set": {"ph": 3.5}})
    assert [event_id for event_id, _ in refusals(first, again)] == ["b"]
    assert refusals(first, act("withdrew", "c", target="a")) == []


def test_a_key_that_nothing_reads_is_told_and_the_rest_of_the_correction_applies() -> None:
    """Another program's slip of one letter must not look like a correction made."""
    found = corrected([READ, act("amended", "a", target="read", set={"gravty.value": 1.04, "ph": 3.4})])
    assert found.events[0].ph == 3.4
    assert found.refused[0].why.startswith("gravty.value is nothing that a read holds; it has air_c, at, batch")


def test_a_correction_taken_back_is_not_told() -> None:
    """That is the way back."""
    bad = act("amended", "a", target="read", set={"gravity.value": "lots"})
    assert refusals(bad, act("withdrew", "b", target="a")) == []


def test_keys_of_an_unknown_kind_and_keys_kept_from_elsewhere_may_be_corrected() -> None:
    """They are kept, so they can be put right too."""
    dreamt = parse(b'{"v":1,"id":"d","at":"2026-03-01T08:00:00Z","batch":"fir","kind":"dreamt","moon":"full"}')
    typed = parse(b'{"v":1,"id":"t","at":"2026-03-01T08:00:00Z","kind":"read","must_c":20,"typed":"68F"}')
    assert fitted(dreamt, {"moon": "new", "stars": 3}).model_extra == {"moon": "new", "stars": 3}
    assert fitted(typed, {"typed": "70F"}).model_extra == {"typed": "70F"}
    with pytest.raises(ValueError, match="color is nothing"):
        fitted(typed, {"color": "red"})
