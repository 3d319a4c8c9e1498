"""`label TAG`: the text for a label, with what makes some people ill."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.commands.context import DONE, Context
from mustwatch.commands.parser import lowered


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "label",
        help="the text for a label",
        description="The text for a label: name, strength, day, what it contains. What to mind goes to standard error.",
        allow_abbrev=False,
    )
    parser.add_argument("tag", metavar="TAG", type=lowered)
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the text of a label."""
    from mustwatch.commands.saving import batch_named
    from mustwatch.ledger.visible import plain_json, visible
    from mustwatch.rules.evidence.contents import INFANTS, contents_of
    from mustwatch.rules.shelf import shelf, with_bottles
    from mustwatch.said.label import label_cautions, label_lines

    cellar = context.cellar_view()
    batch = batch_named(cellar, args.tag)
    contents = contents_of(batch)
    holds = [
        one.hold for one in shelf(cellar, context.findings(with_bottles(cellar))) if one.batch is batch and one.hold
    ]
    lines = label_lines(batch, contents.named, INFANTS if contents.honey else "")
    hold = f"{holds[0].says} ({holds[0].rule})" if holds else ""
    cautions = label_cautions(contents.named, unknown_sulfite=contents.unknown_sulfite, hold=hold)
    if args.json:
        keys = {"batch": batch.tag, "lines": lines, "contains": list(contents.named), "cautions": cautions}
        context.out(plain_json(keys))
        return DONE
    for line in lines:
        context.out(visible(line))
    for caution in cautions:
        context.err(visible(caution))
    return DONE
