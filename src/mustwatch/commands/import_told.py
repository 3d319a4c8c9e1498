"""What an import answers: how the file was understood, what came in, and every row that was in the way."""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import BAD_USE, DONE, Context
from mustwatch.said.dates import moment

if TYPE_CHECKING:
    from mustwatch.feeds.incoming import BadRow, Incoming
    from mustwatch.ledger.events import Event

ROWS_TOLD = 50


@dataclass(slots=True)
class Outcome:
    """What came of an import. places: of the events to add or added; known: here already; bad: what was in the way;
    vain: rows that are taken and change nothing."""

    found: Incoming
    places: Sequence[int] = ()
    known: int = 0
    bad: list[BadRow] = field(default_factory=list)
    vain: list[BadRow] = field(default_factory=list)


def told(args: argparse.Namespace, context: Context, outcome: Outcome) -> int:
    """Says what was understood and brought in, or every row that was in the way."""
    from mustwatch.ledger.visible import counted, plain_json, visible

    found, bad = outcome.found, sorted(outcome.bad, key=lambda row: (row.sheet or "", row.line))
    if args.json:
        context.out(plain_json(document(args, outcome, bad)))
    else:
        for line in understood(args, context, outcome):
            context.out(visible(line))
        if not bad:
            context.out(summary(args, outcome))
    for line in asides(context, found):
        context.err(visible(line))
    for row in (*bad[:ROWS_TOLD], *outcome.vain[:ROWS_TOLD]):
        context.err(f"{visible(args.file)}{where(row.sheet)}:{row.line}: {visible(row.why)}")
    if bad:
        more = f" ({len(bad) - ROWS_TOLD} more not listed)" if len(bad) > ROWS_TOLD else ""
        context.err(f"nothing was saved: {counted(len(bad), 'bad row')} of {len(found.bad) + len(found.events)}{more}")
    return BAD_USE if bad else DONE


def understood(args: argparse.Namespace, context: Context, outcome: Outcome) -> list[str]:
    """How each sheet was read; in a dry run also every row, and whether it is new."""
    from mustwatch.said.telling import told_with_note

    lines = []
    for part in outcome.found.parts:
        columns = ", ".join(f"{ours} from {theirs!r}" for ours, theirs in part.columns.items())
        lines.append(f"{f'sheet {part.sheet}: ' if part.sheet else ''}{columns}; {'; '.join(part.told)}")
    if args.dry_run and outcome.found.parts:
        new = set(outcome.places)
        for place, (line, event) in enumerate(outcome.found.events):
            mark = "" if place in new else "  (here already)"
            at = moment(event.at, context.now)
            said = told_with_note(event, context.settings)
            lines.append(f"{where(outcome.found.sheets[place])}:{line}  {event.batch}  {at}  {said}{mark}")
    return lines


def where(sheet: str | None) -> str:
    """The sheet of a row, as it stands before its number."""
    return f"[{sheet}]" if sheet else ""


def summary(args: argparse.Namespace, outcome: Outcome) -> str:
    """One line: how many events came in, to which batches, and how many were here."""
    from mustwatch.ledger.visible import counted, visible

    batches = Counter(event.batch or "-" for event in added(outcome))
    per_batch = ", ".join(f"{visible(tag)} {count}" for tag, count in sorted(batches.items()))
    verb = "would bring in" if args.dry_run else "brought in"
    here = f"; {outcome.known} were here already" if outcome.known else ""
    return f"{verb} {counted(len(outcome.places), 'event')}{f' ({per_batch})' if per_batch else ''}{here}"


def added(outcome: Outcome) -> list[Event]:
    """The events that came in, or would."""
    return [outcome.found.events[place][1] for place in outcome.places]


def asides(context: Context, found: Incoming) -> list[str]:
    """What else is worth a line: names made into tags, batches not here yet, columns, sheets and rows left out."""
    lines = []
    for tag, names in found.called.items():
        other = [name for name in names if name.casefold() != tag]
        new = "" if tag in context.cellar_view().batches else ", new here"
        if other or new:
            lines.append(f"batch {tag}{f' is what the file calls {other[0]!r}' if other else ''}{new}")
    if found.unused:
        lines.append(f"columns not used: {', '.join(found.unused)}")
    lines += [f"sheet not read: {why}" for why in found.skipped]
    lines += [f"a date and nothing else, left out: row {rows_of(found.dates_only)}"] if found.dates_only else []
    lines += [f"a gravity in two scales, the first taken: row {rows_of(found.doubled)}"] if found.doubled else []
    return lines


def rows_of(places: Sequence[tuple[int, str | None]]) -> str:
    """The first few of these rows, with their sheets."""
    named = ", ".join(f"{where(sheet)}{line}" for line, sheet in places[:10])
    return f"{named}{' ...' if len(places) > 10 else ''}"


def document(args: argparse.Namespace, outcome: Outcome, bad: Sequence[BadRow]) -> dict[str, Any]:
    """The JSON document of an import."""
    import json

    from mustwatch.ledger.codec import encode

    found = outcome.found
    new = set(outcome.places)
    keys: dict[str, Any] = {
        "added": 0 if args.dry_run or bad else len(outcome.places),
        "known": outcome.known,
        "bad": [{"line": row.line, "why": row.why, "sheet": row.sheet} for row in bad],
        "batches": dict(Counter(event.batch or "-" for _, event in found.events)),
        "in_vain": [{"line": row.line, "why": row.why} for row in outcome.vain],
        "unused": list(found.unused),
        "sheets": [{"sheet": p.sheet, "columns": dict(p.columns), "told": list(p.told)} for p in found.parts],
        "skipped": found.skipped,
        "dates_only": [{"line": line, "sheet": sheet} for line, sheet in found.dates_only],
        "dry_run": args.dry_run,
    }
    if args.dry_run and found.parts:
        keys["rows"] = [
            {"line": line, "sheet": found.sheets[place], "new": place in new, "event": json.loads(encode(event))}
            for place, (line, event) in enumerate(found.events)
        ]
    return keys
