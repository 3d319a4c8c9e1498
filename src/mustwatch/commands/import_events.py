"""`import`: brings in events or readings from a file. The whole file, or nothing of it."""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.import_told import Outcome, told

if TYPE_CHECKING:
    from mustwatch.feeds.incoming import BadRow, Incoming
    from mustwatch.feeds.sheets.grid import Sheet, Table

INTRODUCTION = "The whole file, or nothing of it: JSON lines as `events` prints them, a sheet as text, .xlsx or .ods."


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    from mustwatch.feeds.sheets import rows

    parser = subparsers.add_parser(
        "import",
        help="bring in events or readings from a file",
        description=f"{INTRODUCTION}\n{(rows.__doc__ or '').partition(chr(10))[2]}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("file", metavar="FILE", help="JSON lines, CSV, .xlsx or .ods; - reads standard input")
    parser.add_argument("--dry-run", action="store_true", help="say what was understood, line by line; save nothing")
    parser.add_argument("--format", choices=("jsonl", "csv"), help="what it is, where name and content do not tell")
    many = {"action": "append", "default": []}
    parser.add_argument("--column", metavar="OURS=THEIRS", help="such as at=Date", **many)
    parser.add_argument("--batch", metavar="TAG", help="the batch of rows that name none")
    parser.add_argument("--tag", metavar="NAME=TAG", help="the batch that the file calls so", **many)
    parser.add_argument("--dates", choices=("day-first", "month-first"), help="how 03/04/2026 is meant")
    parser.add_argument("--date-format", metavar="FORMAT", help="such as %%d/%%m/%%Y, for other ways to write a day")
    parser.add_argument("--unit", metavar="COLUMN=UNIT", help="C or F, such as must_c=F", **many)
    parser.add_argument("--sheet", metavar="NAME", help="only this sheet of a workbook", **many)
    parser.add_argument("--encoding", metavar="NAME", help="of a text, where it is not told: such as windows-1252")
    parser.add_argument("--separator", metavar="SIGN", help="what parts the fields of a text; tab for a tab")
    parser.add_argument("--keep", metavar="NAME", help="keep how this file is read under a name")
    parser.add_argument("--as", metavar="NAME", dest="kept", help="read it as was kept under a name")
    parser.add_argument("--ahead", action="store_true", help="bring in what is dated in the future without asking")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves every event of the file, or names every bad row and saves none."""
    if context.read_only and not args.dry_run:
        raise Refused(f"not saved: {context.read_only}")
    data = content(args.file)
    if (args.format or guessed(data)) == "jsonl":
        outcome = of_lines(args, context, data)
    else:
        outcome = of_sheets(args, context, data)
    return told(args, context, outcome)


def of_lines(args: argparse.Namespace, context: Context, data: bytes) -> Outcome:
    """JSON lines taken in, ids and all."""
    from mustwatch.feeds.incoming import from_json_lines
    from mustwatch.ledger.intake import Clash

    found = from_json_lines(data)
    outcome = Outcome(found, range(len(found.events)), bad=plain_rows(found.bad))
    if outcome.bad:
        return outcome
    if args.dry_run:
        outcome.vain = in_vain(context, found)
        return outcome
    ask_of_the_future(args, context, found)
    try:
        taken = context.ledger.import_events([event for _, event in found.events], context.clock_now)
    except Clash as clash:
        outcome.bad += clashing(found, clash.positions, str(clash))
    else:
        outcome.places, outcome.known = range(len(taken.added)), taken.known
        outcome.vain = in_vain(context, found)
    return outcome


def ask_of_the_future(args: argparse.Namespace, context: Context, found: Incoming) -> None:
    """Nothing, where no row is dated in the future or that is agreed to. Raises Refused: a diary has no future."""
    from mustwatch.cellar.clock import CLOCKS_AGREE
    from mustwatch.commands.repair import asked
    from mustwatch.ledger.visible import counted, visible
    from mustwatch.said.dates import moment

    rows = [] if args.ahead else [row for row in found.events if row[1].at > context.clock_now + CLOCKS_AGREE]
    # Where this clock is behind what is here already, the newest entry tells the time.
    rows = [(line, event) for line, event in rows if event.at > context.now + CLOCKS_AGREE]
    if not rows:
        return
    line, event = rows[0]
    first = f"the first on line {line}: {moment(event.at, context.now)}"
    says = f"{visible(args.file)}: {counted(len(rows), 'row')} dated in the future, {first}"
    if args.json or not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise Refused(f"{says} (nothing was saved; --ahead brings them in all the same)")
    context.out(says)
    if not asked(context):
        raise Refused("nothing was saved")


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


def of_sheets(args: argparse.Namespace, context: Context, data: bytes) -> Outcome:
    """A sheet's rows taken in: those that are new. Raises Refused where it cannot be read at all."""
    from mustwatch.feeds.incoming import BadRow
    from mustwatch.feeds.sheets.known import sorted_out
    from mustwatch.feeds.sheets.rows import from_sheets
    from mustwatch.ledger.visible import visible

    try:
        with_kept(args, context)
        table = table_of(args, context)
        found = from_sheets(sheets(args, data), table)
    except ValueError as why:
        raise Refused(f"{visible(args.file)}: {visible(str(why))} (nothing was saved)") from None
    events = [event for _, event in found.events]
    parted = sorted_out(events, (line for _, line in context.ledger.lines()))
    outcome = Outcome(found, parted.new, len(parted.known), plain_rows(found.bad))
    for place, event_id in parted.changed:
        other = f"the ledger has another entry of this moment, {event_id[-8:]}"
        reason = f"{other}: correct that with `fix`, or give this one its own time"
        outcome.bad.append(BadRow(found.events[place][0], reason, found.sheets[place]))
    if not outcome.bad and not args.dry_run:
        context.append(*(events[place] for place in parted.new))
        keep_as_told(args, context, found)
    return outcome


def with_kept(args: argparse.Namespace, context: Context) -> None:
    """Puts what was kept under a name where the command line says nothing else. Raises ValueError."""
    from mustwatch.feeds.sheets.kept import kept

    if not args.kept:
        return
    how = kept(context.ledger.identity.folder, args.kept)
    args.column = [f"{ours}={theirs}" for ours, theirs in how.get("columns", {}).items()] + args.column
    args.unit = [f"{name}={unit}" for name, unit in how.get("units", {}).items()] + args.unit
    args.tag = [f"{name}={tag}" for name, tag in how.get("tags", {}).items()] + args.tag
    for name, key in (("dates", "dates"), ("date_format", "date_format"), ("encoding", "encoding"),
                      ("separator", "separator"), ("batch", "batch")):  # fmt: skip
        setattr(args, name, getattr(args, name) or how.get(key))
    args.sheet = args.sheet or how.get("sheets", [])


def keep_as_told(args: argparse.Namespace, context: Context, found: Incoming) -> None:
    """Keeps the columns as they were understood, and whatever else was told, under the asked name."""
    if not args.keep:
        return
    from mustwatch.feeds.sheets.kept import keep

    columns = found.parts[0].columns if len(found.parts) == 1 else dict(map(mapping, args.column))
    how = {"columns": dict(columns), "dates": args.dates, "date_format": args.date_format, "sheets": args.sheet,
           "units": dict(map(mapping, args.unit)), "tags": dict(pair(word, "--tag", "NAME=TAG") for word in args.tag),
           "encoding": args.encoding, "separator": args.separator, "batch": args.batch}  # fmt: skip
    keep(context.ledger.identity.folder, args.keep, how)
    context.err(f"kept as {args.keep}; the next time: import FILE --as {args.keep}")


def table_of(args: argparse.Namespace, context: Context) -> Table:
    """How the file is to be read. Raises ValueError."""
    from mustwatch.entry.when import in_zone
    from mustwatch.feeds.sheets.grid import Table
    from mustwatch.feeds.sheets.headings import TEMPERATURES

    units = {name: unit.upper() for name, unit in map(mapping, args.unit)}
    for name, unit in units.items():
        if name not in TEMPERATURES or unit not in ("C", "F"):
            raise ValueError(f"--unit {name}={unit}: write one of {', '.join(TEMPERATURES)} and C or F")
    return Table(
        context.clock_now, in_zone, dict(map(mapping, args.column)), args.batch, args.date_format,
        args.dates, units, context.settings.temperature == "F",
        dict(pair(word, "--tag", "NAME=TAG") for word in args.tag), known_batches(context),
    )  # fmt: skip


def known_batches(context: Context) -> dict[str, str]:
    """The batches there are, by tag and by name; a name that two batches have settles nothing."""
    batches = context.cellar_view().batches
    names = Counter(batch.name.casefold() for batch in batches.values())
    by_name = {batch.name.casefold(): tag for tag, batch in batches.items() if names[batch.name.casefold()] == 1}
    return by_name | {tag: tag for tag in batches}


def sheets(args: argparse.Namespace, data: bytes) -> Sequence[Sheet]:
    """The sheets of a file. Raises ValueError."""
    from mustwatch.feeds.sheets import text, workbook

    kind = workbook.kind_of(data)
    if kind is None:
        written, encoding = text.decoded(data, args.encoding)
        sign = {"tab": "\t", None: None}.get(args.separator, args.separator)
        if sign is not None and len(sign) != 1:
            raise ValueError("--separator is one sign, or the word tab")
        return [text.sheet_of(written, dict(map(mapping, args.column)), (encoding,), sign)]
    found = workbook.sheets_of(data, kind)
    for name in args.sheet:
        if name not in [sheet.name for sheet in found]:
            raise ValueError(f"there is no sheet {name!r}; there is: {', '.join(str(sheet.name) for sheet in found)}")
    return [sheet for sheet in found if not args.sheet or sheet.name in args.sheet]


def content(name: str) -> bytes:
    """The bytes of the file, of standard input for -. Raises Refused."""
    from mustwatch.feeds.pieces import bytes_of
    from mustwatch.ledger.visible import visible

    try:
        if name == "-":
            return bytes_of(sys.stdin.buffer)
        with Path(name).open("rb", buffering=0) as file:
            return bytes_of(file)
    except (OSError, ValueError) as why:
        reason = getattr(why, "strerror", None) or why
        raise Refused(f"{visible(name)} cannot be read: {reason} (nothing was saved)") from None


def guessed(data: bytes) -> str:
    """`jsonl` or `csv`, by the first sign of the content."""
    return "jsonl" if data.removeprefix(b"\xef\xbb\xbf").lstrip()[:1] in (b"{", b"[") else "csv"


def mapping(word: str) -> tuple[str, str]:
    """Our column and theirs. Raises ValueError."""
    ours, theirs = pair(word, "--column", "OURS=THEIRS, such as at=Date")
    return ours.lower(), theirs


def pair(word: str, option: str, wanted: str) -> tuple[str, str]:
    """What stands on both sides of the sign =, the last one where the option is --tag. Raises ValueError."""
    first, sign, second = word.rpartition("=") if option == "--tag" else word.partition("=")
    if not sign or not first.strip() or not second.strip():
        raise ValueError(f"{option} {word!r}: write {wanted}")
    return first.strip(), second.strip()


def plain_rows(bad: Sequence[BadRow]) -> list[BadRow]:
    """The bad rows with their reasons in words for people."""
    from mustwatch.feeds.incoming import BadRow
    from mustwatch.said.faults import plainly

    return [BadRow(row.line, plainly(row.why), row.sheet) for row in bad]


def clashing(found: Incoming, positions: Sequence[int], why: str) -> list[BadRow]:
    """The rows whose ids stand for something else."""
    from mustwatch.feeds.incoming import BadRow

    return [BadRow(found.events[at][0], f"{found.events[at][1].id} is {why}") for at in positions]
