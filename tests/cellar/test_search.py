"""What is found by which words, and where."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from mustwatch.cellar.corrections import corrected
from mustwatch.cellar.search import search
from mustwatch.ledger.drafts import draft

NOON = datetime(2020, 5, 1, 12, tzinfo=UTC)


def _at(years: float) -> datetime:
    return NOON + timedelta(days=365 * years)


HEATHER = draft(
    "mixed", _at(0), "heather-2", name="Heather, the strong one", style="sack",
    ingredients=[{"what": "Ling heather honey", "category": "honey"}, {"what": "rainwater", "category": "water"}],
    note="Grandmother's recipe",
)  # fmt: skip
STORY = [
    HEATHER,
    draft("pitched", _at(0), "heather-2", yeast={"label": "cellar yeast", "class": "white-wine"}),
    draft("added", _at(0.1), "heather-2", what="vanilla bean", category="spice"),
    draft("seen", _at(0.1), "heather-2", smell=["struck match"], signs=["Überschäumt"]),
    draft("tasted", _at(1), "heather-2", nose="pear", palate="smoky and long", note="the best so far"),
    draft("noted", _at(2), "oak-1", note="smoky too; like the heather"),
    draft("moved", _at(3), "oak-1", place="under the stairs"),
    draft("noted", _at(4), None, note="new hydrometer by the stairs"),
]
STORY = [event.model_copy(update={"id": f"event-{place}"}) for place, event in enumerate(STORY)]


def _found(*words: str) -> list[tuple[str | None, str]]:
    return [(hit.batch, hit.where) for hit in search(STORY, words)]


@pytest.mark.parametrize(
    ("words", "where"),
    [("strong", "name"), ("SACK", "style"), ("ling", "ingredient"), ("rainwater", "ingredient"),
     ("grandmother", "note"), ("cellar", "yeast"), ("vanilla", "ingredient"), ("match", "look"),
     ("uberschaumt", "look"), ("pear", "tasting"), ("best", "tasting")],
)  # fmt: skip
def test_everything_somebody_wrote_is_found_where_it_stands(words: str, where: str) -> None:
    """Each word is in one entry alone."""
    assert _found(words) == [("heather-2", where)]


def test_every_word_must_be_there() -> None:
    """Two words narrow down, they do not widen."""
    assert _found("smoky") == [("oak-1", "note"), ("heather-2", "tasting")]
    assert _found("smoky", "pear") == [("heather-2", "tasting")]
    assert _found("smoky", "vanilla") == []


def test_a_word_may_be_that_of_the_batch_and_the_newest_comes_first() -> None:
    """`heather vanilla` is how one asks for the vanilla in the heather."""
    assert _found("heather", "vanilla") == [("heather-2", "ingredient")]
    assert _found("stairs") == [(None, "note"), ("oak-1", "place")]


def test_the_name_of_a_batch_does_not_find_each_of_its_entries() -> None:
    """Its name, what is called so, and who spoke of it."""
    assert sorted(_found("heather"), key=str) == [
        ("heather-2", "ingredient"), ("heather-2", "name"), ("oak-1", "note"),
    ]  # fmt: skip


def test_what_was_taken_back_or_corrected_is_found_as_it_stands() -> None:
    """The search sees what the story tells."""
    note = STORY[5]
    gone = corrected([*STORY, draft("withdrew", _at(5), "oak-1", target=note.id)]).events
    mended = corrected([*STORY, draft("amended", _at(5), "oak-1", target=note.id, set={"note": "resinous"})]).events
    assert [hit.batch for hit in search(gone, ["smoky"])] == ["heather-2"]
    assert [hit.id for hit in search(mended, ["resinous"])] == [note.id]
