"""The procedures: they fit the screen, give amounts, name when to stop, and lead to what exists."""

from __future__ import annotations

import re

import pytest

from mustwatch.rules import catalogue
from mustwatch.rules.normal import NORMAL_PAGES
from mustwatch.rules.worked import WORKED_PAGES, plain_page, worked_pages_for

NAMES = {module.RULE.name for module in catalogue.RULES}


@pytest.mark.parametrize("name", WORKED_PAGES)
def test_a_procedure_fits_eighty_columns_and_says_when_to_give_up(name: str):
    """A page that only goes on would keep somebody at a lost must for weeks."""
    text = WORKED_PAGES[name]
    assert max(map(len, text.splitlines())) <= 78
    assert "\nWhen to give up\n" in text and "\nSource\n" in text
    assert re.search(r"\b(high|medium|low) confidence", text) and "!" not in text
    assert re.search(r"\d (?:g|mL)\b", text) and "°C" in text and re.search(r"\d+\s+(?:hours|days)", text)


@pytest.mark.parametrize("name", WORKED_PAGES)
def test_a_procedure_is_written_in_sentences_of_at_most_fifteen_words(name: str):
    """Somebody reads it with wet hands, a step at a time; the source is read at a table."""
    parts = WORKED_PAGES[name].split("\nSource\n")[0].split("\n\n")[1:]
    told = [" ".join(part.split("\n", 1)[1].split()) for part in parts if part.strip()]
    sentences = [sentence for part in told for sentence in re.split(r"(?<=[.?:]) ", part)]
    assert len(sentences) > 20
    assert [sentence for sentence in sentences if len(sentence.split()) > 15] == []


def test_names_of_pages_and_rules_are_all_different():
    """`explain NAME` shows one page."""
    assert not set(WORKED_PAGES) & set(NORMAL_PAGES) and not NAMES & {*WORKED_PAGES, *NORMAL_PAGES}
    assert plain_page("rafts") == NORMAL_PAGES["rafts"] and plain_page("stalled") is None


def test_every_procedure_belongs_to_a_rule():
    """A page that no finding leads to is found by nobody."""
    assert set(worked_pages_for(sorted(NAMES))) == set(WORKED_PAGES)
    assert worked_pages_for(["stalled", "stalled"]) == ("restart-a-stall",) and worked_pages_for(["egg-smell"]) == ()
