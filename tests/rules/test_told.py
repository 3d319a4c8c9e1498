"""What the rules say, word for word and to the minute, is what was agreed to."""

from __future__ import annotations

import pytest
from rules.told import FOLDER, record_of

from mustwatch.rules.catalogue import RULES

MODULES = {module.RULE.name: module for module in RULES}


@pytest.mark.parametrize("name", MODULES, ids=lambda name: f"{name}/told")
def test_what_a_rule_says_of_its_stories_is_what_was_agreed_to(name: str):
    """A limit that moved, a figure worked out otherwise or a step left out shows here before a user meets it.

    Read the difference; if it is meant, `python -m tests.rules.told` writes it down.
    """
    assert record_of(MODULES[name]) == (FOLDER / f"{name}.txt").read_text("utf-8")


def test_every_record_belongs_to_a_rule():
    """A record nobody compares would say nothing."""
    assert {path.stem for path in FOLDER.glob("*.txt")} == set(MODULES)
