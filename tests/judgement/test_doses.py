"""Sulfite and sorbate in mg/L from what is on record."""

from __future__ import annotations

import pytest
from rules.scenario import batch_of

from mustwatch.judgement.doses import sorbates, sulfites, total


def test_sulfite_matches_the_winery_figure():
    """8.68 g of potassium metabisulfite in 100 L are 50 mg/L of SO2: Practical Winery and Vineyard, January 2014."""
    batch = batch_of("    day 0 mixed 100l barrel 110l\n    day 9 added sulfite 8.68g\n")
    assert total(sulfites(batch)) == pytest.approx(50, abs=0.1)


def test_the_sodium_salt_is_stronger():
    """67.4 % against 57.6 %, by formula weight."""
    batch = batch_of('    day 0 mixed 100l barrel 110l\n    day 9 added sulfite 10g what="sodium metabisulfite"\n')
    assert total(sulfites(batch)) == pytest.approx(67.4, abs=0.1)


def test_a_dose_counts_in_the_volume_it_went_into():
    """Later rackings do not thin what was given before."""
    batch = batch_of(
        "    day 0 mixed 10l carboy 12l\n    day 9 added sorbate 1g\n    day 20 racked 5l jug 6l\n"
        "    day 21 added sorbate 1g\n"
    )
    assert [dose.mg_per_l for dose in sorbates(batch)] == [100, 200]


def test_an_unknown_dose_counts_nothing():
    """It satisfies no rule, and is never guessed."""
    batch = batch_of("    day 0 mixed 10l carboy 12l\n    day 9 added sulfite\n    day 10 added sulfite 1g\n")
    assert total(sulfites(batch)) == pytest.approx(57.6)
