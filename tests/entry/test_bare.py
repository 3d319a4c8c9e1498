"""Words are found however they were typed."""

from __future__ import annotations

import pytest

from mustwatch.entry.bare import bare


@pytest.mark.parametrize(
    ("one", "other"),
    [("Bouché", "bouche"), ("MÜSLI", "müsli"), ("Straße", "STRASSE"), ("smörgås", "smorgas"), ("Łódź", "lodz"),
     ("mu\u0308sli", "müsli"), ("ﬁg", "fig"), ("two  words\n", "two words"), ("Ærø", "aero")],
)  # fmt: skip
def test_case_accents_and_blanks_make_no_difference(one: str, other: str) -> None:
    """Nobody remembers a year later whether the accent was typed."""
    assert bare(one) == bare(other)


def test_other_letters_still_differ() -> None:
    """It must not find everything."""
    assert bare("pear") != bare("bear") and bare("мёд") != bare("мод")
