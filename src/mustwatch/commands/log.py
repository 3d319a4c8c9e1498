"""`log`: quick entry, one line of what was read and seen."""

import argparse
from typing import Any

from mustwatch.commands.context import DONE, Context, Refused
from mustwatch.commands.parser import lowered
from mustwatch.commands.saving import batch_named, save_and_tell, writable
from mustwatch.ledger.visible import visible


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    from mustwatch.deeds import quick_entry as entry

    parser = subparsers.add_parser(
        "log",
        help="quick entry",
        description=entry.__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--json", action="store_true", help="answer with one JSON document")
    parser.add_argument("tag", metavar="TAG", type=lowered)
    parser.add_argument("entry", nargs=argparse.REMAINDER, metavar="ENTRY", help="such as: 1.042 21C swirled")
    parser.set_defaults(run=run, usage=parser.format_help)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the entry and tells what it means; asks and saves nothing when a part is unclear."""
    from mustwatch.deeds.quick_entry import parse_words

    if args.entry[:1] in (["--help"], ["-h"]):
        context.page(args.usage())
        return DONE
    words = [word for word in args.entry if word != "--json"]
    writable(context)
    ground = context.ground(args.tag)
    batch_named(ground.cellar, args.tag)
    found = parse_words(words, ground)
    if found.questions:
        raise Refused("; ".join(visible(question) for question in found.questions) + " (nothing was saved)")
    as_json = args.json or len(words) != len(args.entry)
    return save_and_tell(context, ground, found.events, found.understood, as_json, found.cautions)
