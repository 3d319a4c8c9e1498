"""One rule's page: its docstring, taken apart and set out again. There is no other manual."""

import textwrap
from collections.abc import Iterable
from functools import cache
from inspect import cleandoc
from typing import NamedTuple

from mustwatch.ledger.settings import Settings
from mustwatch.rules.rule import Finding, Rule, RuleModule

HEADINGS = ("What it looks for", "Why it matters", "What to do", "Source")


class Page(NamedTuple):
    """A rule's page: the bad situation in one line, and the text under each heading."""

    rule: Rule
    title: str
    looks_for: str
    why: str
    do: str
    source: str


def page_of(module: RuleModule) -> Page:
    """The page of a rule module. Raises ValueError naming a heading that its docstring lacks."""
    title, parts = _parts(module.__doc__ or "")
    lacking = [heading for heading in HEADINGS if not parts.get(heading)]
    if lacking or not title:
        raise ValueError(f"rule {module.RULE.name}: its docstring lacks {', '.join(lacking) or 'a first line'}")
    return Page(module.RULE, title, *(parts[heading] for heading in HEADINGS))


def with_why(module: RuleModule, found: Iterable[Finding]) -> list[Finding]:
    """A rule's findings; where one does not say why it matters, its page does."""
    return [finding if finding.why else finding._replace(why=page_of(module).why) for finding in found]


@cache
def _parts(docstring: str) -> tuple[str, dict[str, str]]:
    first, _, rest = cleandoc(docstring).partition("\n")
    parts: dict[str, list[str]] = {}
    heading = ""
    for line in rest.splitlines():
        if line and not line[0].isspace():
            heading = line.strip()
            parts[heading] = []
        elif heading:
            parts[heading].append(line)
    return first.strip(), {name: _flowing(lines) for name, lines in parts.items()}


def _flowing(lines: list[str]) -> str:
    paragraphs = textwrap.dedent("\n".join(lines)).strip().split("\n\n")
    return "\n\n".join(" ".join(paragraph.split()) for paragraph in paragraphs)


def rendered(page: Page, settings: Settings, width: int = 78) -> list[str]:
    """The page as lines of text no wider than `width`, with the thresholds as this cellar has them."""
    lines = [page.rule.name, f"at worst: {page.rule.severity.word}", "", *textwrap.wrap(page.title, width)]
    for heading, text in zip(HEADINGS, (page.looks_for, page.why, page.do, page.source), strict=True):
        lines += ["", heading]
        for number, paragraph in enumerate(text.split("\n\n")):
            lines += [""] * (number > 0) + textwrap.wrap(paragraph, width, initial_indent="  ", subsequent_indent="  ")
    return lines + _thresholds(page.rule, settings, width)


def _thresholds(rule: Rule, settings: Settings, width: int) -> list[str]:
    if not rule.thresholds:
        return []
    lines = ["", f"Numbers a cellar may set, in cellar.toml under [thresholds.{rule.name}]"]
    for name, threshold in rule.thresholds.items():
        here = settings.threshold(rule.name, name, threshold.default)
        own = "" if here == threshold.default else f", here {here:g}"
        text = (
            f"{name} = {threshold.default:g} {threshold.unit}{own}"
            f" ({threshold.low:g} to {threshold.high:g}): {threshold.means}"
        )
        lines += textwrap.wrap(text, width, initial_indent="  ", subsequent_indent="    ")
    return lines
