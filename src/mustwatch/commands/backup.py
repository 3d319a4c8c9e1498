"""`backup`: a copy of the cellar that verifies itself before it gets its name."""

import argparse
from dataclasses import asdict
from typing import Any

from mustwatch.commands.context import DONE, FOUND, Context, Refused


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    from mustwatch.commands.parser import folder

    parser = subparsers.add_parser(
        "backup",
        help="a copy that verifies itself",
        description="A copy of the whole cellar, read back byte by byte. Never over anything that is there.",
        allow_abbrev=False,
    )
    parser.add_argument("target", type=folder, metavar="TARGET", help="a new folder, or one to put a dated copy in")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Makes the backup; 1 where something in the cellar could not be copied."""
    from mustwatch.ledger.store import Unusable
    from mustwatch.ledger.visible import counted, plain_json, visible

    try:
        done = context.ledger.backup(args.target, context.clock_now)
    except Unusable as why:
        raise Refused(visible(str(why))) from None
    if args.json:
        context.out(plain_json({**asdict(done), "path": str(done.path)}))
    else:
        context.out(
            f"backed up {counted(done.events, 'event')} in {counted(done.files, 'file')}"
            f" ({counted(done.bytes, 'byte')}) to {visible(str(done.path))}; "
            "every byte was read back; `sha256sum -c SHA256SUMS` there checks it again"
        )
    for each in done.left_out:
        context.err(f"not copied: {visible(each)}")
    return FOUND if done.left_out else DONE
