"""`export readings|events|shelf`: what the cellar holds, for sheets and other programs."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context
from mustwatch.commands.parser import lowered

if TYPE_CHECKING:
    from mustwatch.ledger.events import Event

WHAT = ("readings", "events", "shelf")


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "export",
        help="readings, events or the shelf as CSV or JSON",
        description="Readings, events or the shelf as CSV; `import` takes the readings again.",
        allow_abbrev=False,
    )
    parser.add_argument("what", metavar="WHAT", type=lowered, choices=WHAT, help=", ".join(WHAT))
    parser.add_argument("--csv", metavar="FILE", type=Path, help="write CSV to a file (default: print it)")
    parser.add_argument("--json", action="store_true", help="one JSON document in place of CSV")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints or writes the rows."""
    from mustwatch.ledger.visible import counted, plain_json, visible

    columns, rows = rows_of(args.what, context)
    if args.csv:
        _write(args.csv, columns, rows)
        if not args.json:
            context.out(f"{visible(str(args.csv))}: {counted(len(rows), 'row')}")
            return DONE
    if args.json:
        whole = _whole(context) if args.what == "events" else rows
        context.out(plain_json({"now": context.now, args.what: whole}))
        return DONE
    from mustwatch.feeds.table import table

    context.page(table(columns, rows, "\n"))
    return DONE


def rows_of(what: str, context: Context) -> tuple[tuple[str, ...], list[dict[str, Any]]]:
    """The columns of a table, and its rows."""
    from mustwatch.feeds import going_out

    cellar = context.cellar_view()
    if what == "readings":
        if probes := going_out.left_out(cellar):
            context.err(f"{probes} readings of probes left out; `export events` has them")
        return going_out.READINGS, list(going_out.readings(cellar))
    if what == "shelf":
        from mustwatch.rules.shelf import shelf, with_bottles

        return going_out.SHELF, going_out.shelf_rows(shelf(cellar, context.findings(with_bottles(cellar))))
    return going_out.EVENTS, list(going_out.events(_events(context), cellar.settings))


def _events(context: Context) -> list[Event]:
    """The events as they stand, corrected, up to the moment that is looked at."""
    from mustwatch.cellar.corrections import corrected

    until = context.looked_at
    return [event for event in corrected(context.events()).events if until is None or event.at <= until]


def _whole(context: Context) -> list[dict[str, Any]]:
    """The same events with all their keys."""
    import json

    from mustwatch.ledger.codec import encode

    return [json.loads(encode(event)) for event in _events(context)]


def _write(path: Path, columns: tuple[str, ...], rows: list[dict[str, Any]]) -> None:
    from mustwatch.commands.writing import writing
    from mustwatch.feeds.table import table
    from mustwatch.feeds.written import put, refuse_others

    with writing(path):
        refuse_others(path, ",".join(columns).encode())
        put(path, table(columns, rows).encode("utf-8", "backslashreplace"))
