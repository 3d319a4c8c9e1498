"""`events`: the ledger as JSON lines, in the order of its ids; troubles go to standard error."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from datetime import datetime
from itertools import islice
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, FOUND, Context
from mustwatch.commands.door import say_all

if TYPE_CHECKING:
    from mustwatch.ledger.store import Trouble

LINES_AT_ONCE = 500
TROUBLES_TOLD = 200
NOT_READ = ("unread", "special")


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    from mustwatch.commands.parser import instant, lowered

    parser = subparsers.add_parser(
        "events",
        help="the ledger as JSON lines",
        description="Every event of the ledger as JSON lines; troubles go to standard error.",
        allow_abbrev=False,
    )
    parser.add_argument("--schema", action="store_true", help="the JSON Schema of a line, and nothing else")
    parser.add_argument("--since", type=instant, metavar="TIME", help="only what happened at that time or later")
    parser.add_argument("--batch", metavar="TAG", type=lowered, help="only this batch; - for the cellar as a whole")
    parser.add_argument("--kind", metavar="KIND", help="only this kind of event")
    parser.add_argument("--json", action="store_true", help="accepted; the output is JSON lines anyway")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the events; 1 where a whole file could not be read."""
    from mustwatch.ledger.visible import plain_json

    if args.schema:
        from mustwatch.ledger.drafts import schema

        context.out(plain_json(schema()))
        return DONE
    troubles: list[Trouble] = []
    until = context.looked_at
    lines = chosen((line for _, line in context.ledger.lines(troubles)), args, until)
    while block := list(islice(lines, LINES_AT_ONCE)):
        say_all(map(printed, block))
    sys.stdout.flush()
    tell(context, troubles)
    return FOUND if any(trouble.kind in NOT_READ for trouble in troubles) else DONE


def printed(line: bytes) -> str:
    """A line in printable ASCII; where that changed its bytes, with the checksum of the new ones."""
    from mustwatch.ledger.crc import resealed
    from mustwatch.ledger.visible import plain_line

    plain = plain_line(line)
    return plain if plain.encode() == line else resealed(plain.encode()).decode()


def chosen(lines: Iterator[bytes], args: argparse.Namespace, until: datetime | None) -> Iterator[bytes]:
    """The lines that were asked for; without a question every line, unparsed."""
    if not (args.since or args.batch or args.kind or until):
        yield from lines
        return
    from mustwatch.ledger.codec import Unreadable, parse

    batch = None if args.batch == "-" else args.batch
    for line in lines:
        try:
            event = parse(line)
        except Unreadable:
            continue
        timely = (not args.since or event.at >= args.since) and (not until or event.at <= until)
        if timely and (not args.batch or event.batch == batch) and (not args.kind or event.kind == args.kind):
            yield line


def tell(context: Context, troubles: list[Trouble]) -> None:
    """Each trouble as one line on standard error, with the damaged text made visible."""
    from mustwatch.ledger.visible import visible

    for trouble in troubles[:TROUBLES_TOLD]:
        where = f"{trouble.file}:{trouble.line}" if trouble.line else trouble.file
        text = f": {visible(trouble.text, limit=600)}" if trouble.text else ""
        context.err(f"{visible(where)} {visible(trouble.what)}{text}")
    if len(troubles) > TROUBLES_TOLD:
        context.err(f"and {len(troubles) - TROUBLES_TOLD} more; `mustwatch verify` lists them")
