"""`rules`: the catalogue, one line a rule, or as JSON with every rule's text."""

from __future__ import annotations

import argparse
import textwrap
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from mustwatch.commands.context import Context


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "rules",
        help="every rule, by name",
        description="Every rule with the worst it can give; `mustwatch explain RULE` shows its page.",
        allow_abbrev=False,
    )
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the catalogue."""
    from mustwatch.rules.catalogue import RULES
    from mustwatch.rules.normal import NORMAL_PAGES
    from mustwatch.rules.page import page_of
    from mustwatch.rules.worked import WORKED_PAGES

    pages = [page_of(module) for module in RULES]
    if args.json:
        from mustwatch.ledger.visible import plain_json

        context.out(plain_json({"rules": [page_keys(page) for page in pages]}))
        return 0
    for page in sorted(pages, key=lambda page: -page.rule.severity):
        head = f"{page.rule.severity.mark} {page.rule.severity.word:<7}{page.rule.name:<24} "
        for line in textwrap.wrap(page.title, 78, initial_indent=head, subsequent_indent=" " * len(head)):
            context.out(line)
    context.out("")
    context.out("The worst a rule can give; `mustwatch explain RULE` shows its page.")
    for line in textwrap.wrap(f"Normal, and explained as well: {', '.join(NORMAL_PAGES)}.", 78):
        context.out(line)
    context.out(f"Procedures, step by step: {', '.join(WORKED_PAGES)}.")
    return 0


def page_keys(page: Any) -> dict[str, Any]:
    """One rule's page as stable keys."""
    return {
        "rule": page.rule.name,
        "severity": page.rule.severity.word,
        "title": page.title,
        "looks_for": page.looks_for,
        "why": page.why,
        "do": page.do,
        "source": page.source,
        "thresholds": {
            name: {
                "default": threshold.default,
                "low": threshold.low,
                "high": threshold.high,
                "unit": threshold.unit,
                "means": threshold.means,
            }
            for name, threshold in page.rule.thresholds.items()
        },
    }
