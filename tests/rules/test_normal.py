"""The pages on what is normal: they fit the screen, warn where they must, and are found from what was seen."""

from __future__ import annotations

import pytest
from rules.scenario import batch_of

from mustwatch.rules import catalogue
from mustwatch.rules.normal import NORMAL_PAGES, normal_pages_for


@pytest.mark.parametrize("name", NORMAL_PAGES)
def test_a_page_fits_eighty_columns_and_says_when_it_is_not_normal(name: str):
    """Comfort without its limit would be worse than none."""
    text = NORMAL_PAGES[name]
    assert max(map(len, text.splitlines())) <= 78
    for heading in ("What it is", "Why it is normal", "When it is not", "Source"):
        assert f"\n{heading}\n" in text
    assert "confidence" in text and "!" not in text


@pytest.mark.parametrize("name", NORMAL_PAGES)
def test_a_page_names_only_rules_that_exist(name: str):
    """`see film-on-top` must lead somewhere."""
    names = {module.RULE.name for module in catalogue.RULES}
    after_see = [part.split()[0].strip(".,:") for part in " ".join(NORMAL_PAGES[name].split()).split(" see ")[1:]]
    assert set(after_see) <= names
    assert name not in names


@pytest.mark.parametrize(
    ("seen", "pages"),
    [
        ("seen rafts", ("rafts",)),
        ("seen ring still", ("ring", "still-airlock")),
        ("seen foam murky", ("foam", "murk")),
        ("seen lees", ("lees",)),
        ("seen smell:egg", ("early-sulphur",)),
        ("seen fuzzy", ()),
        ("seen clear clean bubbling", ()),
    ],
)
def test_pages_are_found_from_what_was_seen(seen: str, pages: tuple[str, ...]):
    """Three days after pitching, so that a whiff of egg is early."""
    assert normal_pages_for(batch_of(f"    day 0 pitched ale\n    day 3 {seen}\n")) == pages


def test_what_was_seen_long_ago_leads_to_no_page():
    """Foam in the first week explains nothing in the eighth."""
    assert normal_pages_for(batch_of("    day 0 pitched ale\n    day 3 seen foam\n    day 56 read 1.010\n")) == ()


def test_a_late_whiff_of_egg_is_not_called_normal():
    """That is what the rule egg-smell is for."""
    assert normal_pages_for(batch_of("    day 0 pitched ale\n    day 20 seen smell:egg\n")) == ()
