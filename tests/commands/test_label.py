"""`label`: the text on standard output alone, what to mind beside it."""

from __future__ import annotations

from test_sample_cellar import SAMPLE


def test_the_label_is_all_that_standard_output_holds(run) -> None:
    """It is piped to a printer."""
    ran = run("--cellar", str(SAMPLE), "label", "meadow-1")
    assert ran.out.splitlines()[0] == "First meadow" and "bottled 22 Oct 2025" in ran.out
    assert "not for infants" in ran.out and "Local law" in ran.err and "Local law" not in ran.out


def test_bottles_on_hold_are_not_given_away(run) -> None:
    """Said where the label is printed."""
    ran = run("--cellar", str(SAMPLE), "label", "bramble")
    assert "on hold, give none away" in ran.err.splitlines()[0]
    assert "on hold" in run("--cellar", str(SAMPLE), "label", "bramble", "--json").json["cautions"][0]


def test_json_holds_the_lines_and_what_it_contains(fir) -> None:
    """Sulfite of unknown dose is named."""
    fir("add", "fir", "potassium metabisulfite", "--at", "2026-03-05")
    found = fir("label", "fir", "--json").json
    assert found["contains"] == ["sulfites"] and "contains sulfites" in found["lines"]
