"""The page of one rule."""

from __future__ import annotations

from mustwatch.batches.settings import Settings
from mustwatch.screens.ink import Line, line
from mustwatch.screens.paper import Paper


def rule_lines(name: str, settings: Settings) -> list[Line]:
    """The page of a rule as lines; a name that is no rule says so."""
    from mustwatch.rules import RULES
    from mustwatch.rules.page import page_of, rendered

    module = next((module for module in RULES if module.RULE.name == name), None)
    if module is None:
        return [line(f"there is no rule {name}")]
    texts = rendered(page_of(module), settings, 76)
    return [
        line(f" {text}", "strong" if number == 0 else "head" if text and not text.startswith(" ") else "")
        for number, text in enumerate(texts)
    ]


def rule_page(name: str, settings: Settings) -> Paper:
    """The page of a rule, as a screen."""
    return Paper(rule_lines(name, settings))
