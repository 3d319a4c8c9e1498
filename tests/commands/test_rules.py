"""`rules` and `explain`: the catalogue and its pages."""

from __future__ import annotations


def test_the_catalogue_has_the_keys_of_the_contract(run):
    """Every rule with what it looks for, why, what to do and whence; without any cellar."""
    ran = run("rules", "--json")
    assert ran.status == 0
    for rule in ran.json["rules"]:
        assert {"rule", "severity", "looks_for", "why", "do", "source"} <= set(rule)
        assert all(isinstance(rule[key], str) and rule[key] for key in ("looks_for", "why", "do", "source"))


def test_the_catalogue_fits_80_columns_and_names_every_rule(run):
    """One name a rule; nothing cut off."""
    from mustwatch.rules.catalogue import RULES

    out = run("rules").out
    assert all(f" {module.RULE.name} " in out for module in RULES)
    assert max(len(line) for line in out.splitlines()) <= 80
