"""`explain RULE`: one rule's page, which is its only manual."""

from __future__ import annotations

import argparse
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from mustwatch.commands.context import Context


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    from mustwatch.commands.parser import lowered

    parser = subparsers.add_parser(
        "explain",
        help="one rule's page",
        description="One rule's page: what it looks for, why, what to do. Also of what is normal.",
        allow_abbrev=False,
    )
    parser.add_argument(
        "rule", metavar="RULE", type=lowered, help="a rule's name, as `mustwatch rules` lists them; or outlook"
    )
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the page; 2 when there is no such rule."""
    if (plain := _plain_page(args.rule)) is not None:
        return _show_plain(plain, args, context)
    from mustwatch.rules.catalogue import RULES
    from mustwatch.rules.normal import NORMAL_PAGES
    from mustwatch.rules.page import page_of, rendered
    from mustwatch.rules.worked import WORKED_PAGES

    modules = {module.RULE.name: module for module in RULES}
    if args.rule not in modules:
        from mustwatch.ledger.visible import visible

        near = get_close_matches(args.rule, [*modules, *NORMAL_PAGES, *WORKED_PAGES], n=3, cutoff=0.5)
        hint = f"; near to it: {', '.join(near)}" if near else "; `mustwatch rules` lists them"
        context.err(f"no rule is called {visible(args.rule, limit=60)}{hint}")
        return 2
    page = page_of(modules[args.rule])
    if args.json:
        from mustwatch.commands.rules import page_keys
        from mustwatch.ledger.visible import plain_json

        context.out(plain_json(page_keys(page)))
        return 0
    for line in rendered(page, _settings(context)):
        context.out(line)
    return 0


def _plain_page(name: str) -> str | None:
    """The page of what is no rule but needs explaining as much: the forecast, a procedure, what is normal."""
    if name == "outlook":
        from mustwatch.said.outlook_page import PAGE

        return PAGE
    from mustwatch.rules.worked import plain_page

    return plain_page(name)


def _show_plain(page: str, args: argparse.Namespace, context: Context) -> int:
    from mustwatch.ledger.visible import plain_json

    if args.json:
        context.out(plain_json({"page": args.rule, "text": page}))
    else:
        context.page(page.rstrip())
    return 0


def _settings(context: Context) -> Any:
    """The cellar's settings where there is a cellar; a page can be read without one."""
    from mustwatch.commands.context import Refused
    from mustwatch.ledger.settings import Settings

    try:
        return context.settings
    except Refused:
        return Settings()
