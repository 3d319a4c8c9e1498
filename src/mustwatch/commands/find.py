"""`find WORDS...`: what was written down anywhere, over all batches and years."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context, Refused

if TYPE_CHECKING:
    from datetime import datetime

    from mustwatch.cellar.search import Hit

SHOWN = 240  # cells of a hit on the terminal; `--json` has all of it


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "find",
        help="words in notes, tastings, ingredients and names",
        description="Words in notes, tastings, looks, ingredients and names of all batches and years, newest first.",
        allow_abbrev=False,
    )
    parser.add_argument("words", nargs="+", metavar="WORDS", help="all must be there; case and accents do not count")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the hits."""
    from mustwatch.cellar.corrections import corrected
    from mustwatch.cellar.search import search
    from mustwatch.entry.bare import bare
    from mustwatch.ledger.visible import counted, plain_json

    if not any(bare(word) for word in args.words):
        raise Refused("find what? Write some of the words, such as `find smells pear`")
    cellar = context.cellar_view()
    until = context.looked_at
    events = (event for event in corrected(context.events()).events if until is None or event.at <= until)
    hits = search(events, args.words)
    if args.json:
        context.out(plain_json({"now": context.now, "hits": [asdict(hit) for hit in hits]}))
        return DONE
    for hit in hits:
        for line in lines_of(hit, args.words, cellar.now):
            context.out(line)
    context.out(counted(len(hits), "hit") if hits else "nothing found")
    return DONE


def lines_of(hit: Hit, words: list[str], now: datetime) -> list[str]:
    """A hit in lines of at most 79 columns: when, which batch, where, and the words around the first one sought."""
    from mustwatch.ledger.visible import visible
    from mustwatch.said.dates import moment
    from mustwatch.said.terminal import hung

    text = visible(_around(" ".join(hit.text.split()), words), limit=SHOWN)
    return hung("", f"{moment(hit.at, now)}  {visible(hit.batch or 'cellar')}  {hit.where}: {text}")


def _around(text: str, words: list[str]) -> str:
    """A long text from shortly before the first of the words."""
    from mustwatch.entry.bare import bare

    if len(text) <= SHOWN:
        return text
    places = [place for word in words if (place := bare(text).find(bare(word))) >= 0]
    start = max(0, min(places, default=0) - 60)
    return f"{'...' if start else ''}{text[start : start + SHOWN]}{'...' if start + SHOWN < len(text) else ''}"
