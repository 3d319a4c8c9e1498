"""`import`: brings in events or readings from a file. The whole file, or nothing of it."""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import BAD_USE, DONE, Context, Refused

if TYPE_CHECKING:
    from mustwatch.feeds.incoming import BadRow, Incoming

INTRODUCTION = "The whole file, or nothing of it: JSON lines as `events` prints them, or CSV."
LARGEST_FILE = 1 << 30
ROWS_TOLD = 50


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    from mustwatch.feeds import incoming_csv

    parser = subparsers.add_parser(
        "import",
        help="bring in events or readings from a file",
        description=f"{INTRODUCTION}\n{(incoming_csv.__doc__ or '').partition(chr(10))[2]}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("file", metavar="FILE", help="JSON lines or CSV; - reads standard input")
    parser.add_argument("--format", choices=("jsonl", "csv"), help="what it is, where the name and content do not tell")
    parser.add_argument("--column", metavar="OURS=THEIRS", action="append", default=[], help="such as at=Date")
    parser.add_argument("--batch", metavar="TAG", help="the batch of rows that name none")
    parser.add_argument("--date-format", metavar="FORMAT", help="such as %%d/%%m/%%Y, for other ways to write a day")
    parser.add_argument("--dry-run", action="store_true", help="say what would be brought in, and save nothing")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves every event of the file, or names every bad row and saves none."""
    from mustwatch.feeds.incoming import BadRow
    from mustwatch.ledger.intake import Clash
    from mustwatch.said.faults import plainly

    if context.read_only and not args.dry_run:
        raise Refused(f"not saved: {context.read_only}")
    found = understood(args, context)
    bad, added, known = [BadRow(row.line, plainly(row.why)) for row in found.bad], 0, 0
    if not bad and not args.dry_run:
        try:
            taken = context.ledger.import_events([event for _, event in found.events], context.clock_now)
            added, known = len(taken.added), taken.known
        except Clash as clash:
            bad += clashing(found, clash.positions, str(clash))
    return told(args, context, found, bad, (added, known), [] if bad else in_vain(context, found))


def in_vain(context: Context, found: Incoming) -> list[BadRow]:
    """The rows that are taken and change nothing: corrections that do not apply, kinds not known here."""
    from mustwatch.cellar.corrections import corrected
    from mustwatch.feeds.incoming import BadRow
    from mustwatch.ledger.events import Amended, UnknownKind, Withdrew
    from mustwatch.said.troubles import refused, unknown

    lines = {id(event): line for line, event in found.events}
    odd = [
        BadRow(line, told.says)
        for line, event in found.events
        for told in unknown([event])
        if isinstance(event, UnknownKind)
    ]
    if any(isinstance(event, Amended | Withdrew) for _, event in found.events):
        mine = {event.id for _, event in found.events}
        there = [event for event in context.ledger.read().events if event.id not in mine]
        right = corrected([*there, *(event for _, event in found.events)])
        odd += [
            BadRow(lines[id(one.act)], refused(one, context.clock_now).says)
            for one in right.refused
            if id(one.act) in lines
        ]
    return sorted(odd, key=lambda row: row.line)


def understood(args: argparse.Namespace, context: Context) -> Incoming:
    """What the file holds. Raises Refused where it cannot be read at all."""
    from mustwatch.ledger.visible import visible

    data = content(args.file)
    try:
        if (args.format or guessed(args.file, data)) == "jsonl":
            from mustwatch.feeds.incoming import from_json_lines

            return from_json_lines(data)
        from mustwatch.feeds.incoming_csv import Table, from_csv

        names = dict(mapping(word) for word in args.column)
        table = Table(context.clock_now, lambda at: at.astimezone(), names, args.batch, args.date_format)
        return from_csv(decoded(data), table)
    except ValueError as why:
        raise Refused(f"{visible(args.file)}: {visible(str(why))} (nothing was saved)") from None


def content(name: str) -> bytes:
    """The bytes of the file, of standard input for -. Raises Refused."""
    from mustwatch.ledger.visible import visible

    try:
        if name == "-":
            data = sys.stdin.buffer.read(LARGEST_FILE + 1)
        else:
            with Path(name).open("rb") as file:
                data = file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as why:
        raise Refused(f"{visible(name)} cannot be read: {getattr(why, 'strerror', None) or why}") from None
    if len(data) > LARGEST_FILE:
        raise Refused(f"{visible(name)} is larger than 1 GiB; bring it in in parts")
    return data


def decoded(data: bytes) -> str:
    """The text of a CSV file. Raises ValueError."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as why:
        raise ValueError(f"not UTF-8 text (byte {why.start}); save it as UTF-8") from None


def guessed(name: str, data: bytes) -> str:
    """`jsonl` or `csv`, by the first sign of the content."""
    return "jsonl" if data.removeprefix(b"\xef\xbb\xbf").lstrip()[:1] in (b"{", b"[") else "csv"


def mapping(word: str) -> tuple[str, str]:
    """Our column and theirs. Raises ValueError."""
    ours, sign, theirs = word.partition("=")
    if not sign or not ours or not theirs:
        raise ValueError(f"--column {word!r}: write OURS=THEIRS, such as at=Date")
    return ours.strip().lower(), theirs.strip()


def clashing(found: Incoming, positions: Sequence[int], why: str) -> list[BadRow]:
    """The rows whose ids stand for something else."""
    from mustwatch.feeds.incoming import BadRow

    return [BadRow(found.events[at][0], f"{found.events[at][1].id} is {why}") for at in positions]


def told(
    args: argparse.Namespace,
    context: Context,
    found: Incoming,
    bad: list[BadRow],
    done: tuple[int, int],
    odd: list[BadRow],
) -> int:
    """Says what was brought in, or every row that was in the way. odd: rows that are taken and change nothing."""
    from mustwatch.ledger.visible import counted, plain_json, visible

    added, known = done
    batches = Counter(event.batch or "-" for _, event in found.events)
    if args.json:
        rows, vain = ([{"line": row.line, "why": row.why} for row in those] for those in (bad, odd))
        keys = {"added": added, "known": known, "bad": rows, "batches": dict(batches), "unused": list(found.unused)}
        context.out(plain_json(keys | {"in_vain": vain, "dry_run": args.dry_run}))
    elif not bad:
        per_batch = ", ".join(f"{visible(tag)} {count}" for tag, count in sorted(batches.items()))
        verb = "would bring in" if args.dry_run else "brought in"
        count = len(found.events) if args.dry_run else added
        of_which = f" ({per_batch})" if count else ""
        here = f"; {known} were here already" if known else ""
        context.out(f"{verb} {counted(count, 'event')}{of_which}{here}")
    if found.unused:
        context.err(f"columns not used: {', '.join(visible(name) for name in found.unused)}")
    for row in (*bad[:ROWS_TOLD], *odd[:ROWS_TOLD]):
        context.err(f"{visible(args.file)}:{row.line}: {visible(row.why)}")
    if bad:
        more = f" ({len(bad) - ROWS_TOLD} more not listed)" if len(bad) > ROWS_TOLD else ""
        context.err(f"nothing was saved: {counted(len(bad), 'bad row')} of {len(found.bad) + len(found.events)}{more}")
    return BAD_USE if bad else DONE
