"""A lid seen bulging stays a danger until somebody lets the gas out."""

from __future__ import annotations

import pytest


def _severity(run) -> str | None:
    found = {one["rule"]: one["severity"] for one in run("check", "--json").json["findings"]}
    return found.get("lock-blocked")


@pytest.mark.parametrize("later", [["foamed"], ["still"], ["1.060", "20C"]])
def test_what_is_seen_after_it_does_not_make_it_less(fir, later: list[str]) -> None:
    """Foam seen an hour after the bulging lid is no relief, and a still airlock under it is the worst sign."""
    fir("log", "fir", "sign:lid bulging", "@2026-03-02", "10:00")
    fir("log", "fir", *later, "@2026-03-02", "11:00")
    assert _severity(fir) == "danger"


@pytest.mark.parametrize("relief", [["bubbling"], ["cleaned"], ["closed", "blow-off"]])
def test_gas_let_out_ends_it(fir, relief: list[str]) -> None:
    """Bubbles, a cleaned airlock, another closure."""
    fir("log", "fir", "sign:lid bulging", "@2026-03-02", "10:00")
    fir("log", "fir", *relief, "@2026-03-02", "11:00")
    assert _severity(fir) is None


def test_foam_that_has_fallen_is_forgotten(fir) -> None:
    """A foamed airlock that stands still later is the common end of the first week."""
    fir("log", "fir", "foamed", "@2026-03-02", "10:00")
    fir("log", "fir", "still", "@2026-03-20", "11:00")
    assert _severity(fir) is None
