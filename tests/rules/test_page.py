"""A rule's page: its docstring, taken apart and set out again."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from mustwatch.ledger.settings import Settings
from mustwatch.rules.catalogue import RULES, gravity_rose
from mustwatch.rules.page import page_of, rendered


def test_a_page_holds_the_text_under_each_heading():
    """First line, then what, why, do and source."""
    page = page_of(gravity_rose)
    assert page.title == "Gravity went up, and nothing on record explains it."
    assert page.looks_for.startswith("A reading more than three points above")
    assert "\n" not in page.why


def test_a_docstring_without_its_headings_is_refused():
    """A rule without a manual would be a rule without a reason."""
    bare = SimpleNamespace(__doc__="Something is wrong.\n\nWhat to do\n    Look.\n", RULE=gravity_rose.RULE)
    with pytest.raises(ValueError, match="lacks What it looks for, Why it matters, Source"):
        page_of(bare)


@pytest.mark.parametrize("width", [40, 78])
def test_no_line_of_any_page_is_wider_than_asked(width: int):
    """A narrow pane beside the list must be enough."""
    for module in RULES:
        lines = rendered(page_of(module), Settings(), width)
        assert all(len(line) <= width or " " not in line.strip() for line in lines[4:] if "cellar.toml" not in line)


def test_the_numbers_of_the_cellar_stand_beside_the_defaults():
    """Who moved a threshold must see that it is moved."""
    settings = Settings(thresholds={"gravity-rose": {"points": 5.0}})
    assert any("points = 3 points, here 5 (2 to 20)" in line for line in rendered(page_of(gravity_rose), settings))
