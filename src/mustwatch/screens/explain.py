"""The page of one rule, the procedures, and the pages on what worries people and need not."""

from mustwatch.ledger.settings import Settings
from mustwatch.screens.ink import Line, line, wrapped
from mustwatch.screens.paper import Paper


def rule_lines(name: str, settings: Settings, width: int) -> list[Line]:
    """The page of a rule as lines at most `width` cells wide; a name that is no rule says so."""
    from mustwatch.rules.catalogue import RULES
    from mustwatch.rules.page import page_of, rendered

    module = next((module for module in RULES if module.RULE.name == name), None)
    if module is None:
        return wrapped(f"there is no rule {name}", width)
    lines: list[Line] = []
    for number, text in enumerate(rendered(page_of(module), settings, width)):
        role = "strong" if number == 0 else "head" if text and not text.startswith(" ") else ""
        lines += [line(text, role)] if len(text) <= width else wrapped(text, width, role, rest="  ")
    return lines


def plain_lines(name: str, width: int) -> list[Line]:
    """A procedure or a page on something normal, as lines at most `width` cells wide; without a page it says so."""
    from mustwatch.rules.worked import plain_page

    title, *parts = (plain_page(name) or f"there is no page {name}").split("\n\n")
    lines = wrapped(title, width, "strong")
    for part in parts:
        heading, *body = part.split("\n")
        lines += [(), *wrapped(heading, width, "head")]
        lines += wrapped(" ".join(text.strip() for text in body), width, first="  ", rest="  ")
    return lines


def rule_page(name: str, settings: Settings) -> Paper:
    """The page of a rule, as a screen."""
    return Paper(lambda width: rule_lines(name, settings, width))


def plain_page(name: str) -> Paper:
    """A procedure or a page on something normal, as a screen."""
    return Paper(lambda width: plain_lines(name, width))
