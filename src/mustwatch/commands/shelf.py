"""`shelf`: the bottles by batch and lot, what is on hold, and when each is at its best."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context

if TYPE_CHECKING:
    from datetime import datetime

    from mustwatch.rules.shelf import Shelved


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "shelf",
        help="the bottles, by batch and lot",
        description="The bottles by batch and lot: what is left, what is on hold and why, when to drink it.",
        allow_abbrev=False,
    )
    parser.add_argument("--all", action="store_true", help="empty lots too")
    parser.add_argument("--json", action="store_true", help="one JSON document, empty lots included")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the shelf."""
    from mustwatch.ledger.visible import plain_json
    from mustwatch.rules.shelf import bottles_left, shelf, with_bottles

    cellar = context.cellar_view()
    lots = shelf(cellar, context.findings(with_bottles(cellar)))
    if args.json:
        document = {"now": context.now, "lots": [as_keys(one) for one in lots], "bottles": bottles_left(lots)}
        context.out(plain_json(document))
        return DONE
    for line in as_text(lots, context.now, everything=args.all):
        context.out(line)
    return DONE


def as_keys(one: Shelved) -> dict[str, Any]:
    """One lot as stable keys; what nobody recorded is null, and `left` too where its lot was not written down."""
    from mustwatch.feeds.going_out import shelf_rows

    given = [each for each in one.batch.tastings if each.score_of_10 is not None]
    return shelf_rows([one])[0] | {"scores": [{"at": each.at, "score": each.score_of_10} for each in given]}


def as_text(lots: list[Shelved], now: datetime, *, everything: bool = False) -> list[str]:
    """The shelf in lines of at most 79 columns: how many bottles, then a part for each batch."""
    from mustwatch.rules.shelf import bottles_left
    from mustwatch.said.bottles import bottles_in_all

    shown = [one for one in lots if everything or not one.lot.is_empty]
    lines = [bottles_in_all(bottles_left(lots), len(shown)) if shown else "no bottle on the shelf"]
    last = ""
    for one in shown:
        if one.lot.batch != last:
            lines += ["", *_head(one)]
            last = one.lot.batch
        lines += _lines(one, now)
    if hidden := len(lots) - len(shown):
        word = "lot is" if hidden == 1 else "lots are"
        lines += ["", f"{hidden} {word} empty; `shelf --all` tells of them too."]
    return lines


def _head(one: Shelved) -> list[str]:
    from mustwatch.ledger.visible import visible
    from mustwatch.said.figures import score_words
    from mustwatch.said.terminal import hung

    batch = one.batch
    name = "" if batch.name in ("", batch.tag) else f"  {visible(batch.name)}"
    lines = hung("", f"{visible(batch.tag)}{name}")
    if one.hold:
        mark = one.hold.severity.mark
        lines += hung(f"  {mark} ON HOLD  ", visible(f"{one.hold.says} ({one.hold.rule})"))
    if one.score is not None:
        lines += hung("  ", f"last tasted at {score_words(one.score)}")
    return lines


def _lines(one: Shelved, now: datetime) -> list[str]:
    from mustwatch.ledger.visible import visible
    from mustwatch.said.bottles import lot_words, window_words
    from mustwatch.said.terminal import hung

    lines = hung(f"  lot {visible(one.lot.name, limit=20)}: ", visible(lot_words(one.lot, now)))
    if not one.hold:
        lines += hung("    ", window_words(one.window, now))
    return lines
