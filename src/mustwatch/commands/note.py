"""`note`: a note, kept word for word; `note -` for the cellar as a whole."""

from __future__ import annotations

import argparse
from typing import Any

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.parser import lowered
from mustwatch.commands.saving import ECHOED, batch_to_write, drafted, happened_at, save_and_tell
from mustwatch.ledger.visible import visible


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "note",
        help="a note, kept word for word",
        description="A note, kept word for word; with - in place of TAG it is the cellar's.",
        allow_abbrev=False,
    )
    parser.add_argument("tag", metavar="TAG", type=lowered, help="the batch, or - for the cellar")
    parser.add_argument("text", metavar="TEXT", nargs="+", help="its words; quotes keep what the shell would take")
    parser.add_argument("--at", default="", metavar="WHEN", help="when, if not now")
    parser.add_argument("--json", action="store_true", help="answer with one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the note. What a note tells of danger, such as a leak, is answered with the finding."""
    tag = None if args.tag == "-" else args.tag
    if tag is not None:
        batch_to_write(context, tag)
    text = " ".join(args.text)
    if not text.strip():
        raise Refused("an empty note; write what is to be kept")
    event = drafted("noted", happened_at(context, args.at), tag, note=text)
    return save_and_tell(context, tag, [event], [f"note: {visible(text, limit=ECHOED)}"], args.json)
