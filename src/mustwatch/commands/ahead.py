"""`ahead`: what falls due today, this week and later, over all batches; also as a calendar."""

from __future__ import annotations

import argparse
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context
from mustwatch.commands.writing import writing

if TYPE_CHECKING:
    from datetime import datetime

    from mustwatch.rules.due import Due

DAYS, MOST_DAYS = 30, 3660


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "ahead",
        help="what falls due: today, this week, later",
        description="What falls due today, this week and later, over all batches, if nothing more is recorded.",
        allow_abbrev=False,
    )
    parser.add_argument("--days", metavar="N", type=_days, default=DAYS, help=f"how far ahead (default: {DAYS})")
    parser.add_argument("--ical", metavar="FILE", type=Path, help="write a calendar, or bring the one there up to date")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def _days(text: str) -> int:
    if not text.strip().isdecimal() or not 0 <= int(text) <= MOST_DAYS:
        raise argparse.ArgumentTypeError(f"{text!r} is no number of days; write 0 to {MOST_DAYS}")
    return int(text)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints what falls due, and writes the calendar where one is asked for."""
    from mustwatch.ledger.visible import plain_json
    from mustwatch.rules.due import due, living

    cellar = living(context.cellar_view())
    found = due(cellar, context.findings(cellar), args.days)
    written = _calendar(args.ical, found, context) if args.ical else None
    if args.json:
        context.out(plain_json({"now": context.now, "due": [as_keys(one) for one in found]}))
        return DONE
    for line in [written] if written else as_text(found, context.now, args.days):
        context.out(line)
    return DONE


def _calendar(path: Path, found: list[Due], context: Context) -> str:
    from mustwatch.feeds.ical import write_calendar
    from mustwatch.ledger.visible import counted, visible

    with writing(path):
        count = write_calendar(path, found, context.now, context.clock_now)
    return f"{visible(str(path))}: {counted(count, 'thing')} to do"


def as_keys(one: Due) -> dict[str, Any]:
    """One thing that falls due as stable keys; `kind` is the rule, or what it is."""
    return {
        "on": one.on,
        "batch": one.batch,
        "what": one.what,
        "why": one.why,
        "from": one.source,
        "kind": one.kind,
        "severity": one.severity.word,
        "evidence": list(one.evidence),
    }


def as_text(found: list[Due], now: datetime, days: int) -> list[str]:
    """What falls due in lines of at most 79 columns, under today, this week and later."""
    from mustwatch.ledger.visible import visible
    from mustwatch.rules.due import behind, parts_of
    from mustwatch.said.dates import day
    from mustwatch.said.terminal import hung

    if not found:
        return [f"nothing falls due before {day(now + timedelta(days=days + 1), now)}"]
    lines: list[str] = []
    for head, part in parts_of(found, now):
        lines += ["", head] if lines else [head]
        for one in part:
            when = "" if head == "today" else f"{day(one.on, now)}  "
            lines += hung(f"  {when}{visible(one.batch)}: ", visible(f"{one.what} ({behind(one)})"))
    return lines
