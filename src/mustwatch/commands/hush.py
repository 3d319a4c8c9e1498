"""`hush`: a finding sleeps until a date; danger for a day at most, and it stays in sight."""

from __future__ import annotations

import argparse
from datetime import timedelta
from typing import Any

from mustwatch.commands.context import Context, Refused
from mustwatch.commands.parser import lowered
from mustwatch.commands.saving import (
    batch_named,
    day_to_come,
    drafted,
    save_and_tell,
    saving_parser,
    still_there,
    writable,
)
from mustwatch.ledger.visible import visible
from mustwatch.said.dates import moment


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = saving_parser(subparsers, "hush", "put a finding to sleep: hush TAG RULE --until 2026-06-01", at=False)
    parser.add_argument("rule", metavar="RULE", type=lowered, help="as `mustwatch check` names it")
    parser.add_argument(
        "--until", metavar="DATE", required=True, help="2026-06-01, tomorrow, fri, 2 weeks; a day means its noon"
    )
    parser.add_argument("--why", metavar="TEXT", help="the reason, kept with it")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves the hush. A rule that found nothing, a date gone by and a long sleep for a danger are refused."""
    writable(context)
    cellar = context.cellar_view()
    batch_named(cellar, args.tag)
    found = [one for one in context.findings(cellar) if one.batch == args.tag]
    mine = next((one for one in found if one.rule == args.rule), None)
    now = context.clock_now
    above = next((one.rule for one in found if args.rule in still_there(one.folded)), None)
    if mine is None and above is not None:
        raise Refused(f"{args.rule} stands under {above} in {args.tag}; hush that one")
    if mine is None:
        names = ", ".join(one.rule for one in found) or "nothing"
        raise Refused(f"{visible(args.rule, limit=40)!r} has found nothing in {args.tag}; found there: {names}")
    until = day_to_come(context, "until", args.until)
    assert until is not None
    if until <= now:
        raise Refused(f"--until {moment(until, now)} has gone by; name a time to come")
    if mine.severity.word == "danger" and until > now + timedelta(hours=24):
        raise Refused("a danger can be hushed for 24 hours at most, and stays in sight")
    event = drafted("hushed", now, args.tag, rule=args.rule, until=until, why=args.why, note=args.note)
    return save_and_tell(context, args.tag, [event], [f"hushed {args.rule} until {moment(until, now)}"], args.json)
