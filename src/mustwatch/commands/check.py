"""`check`: the findings of the cellar, worst first. Exit status 1 when one is at or above the asked severity."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import NOT_SAVED

if TYPE_CHECKING:
    from mustwatch.commands.context import Context
    from mustwatch.rules.finding import Finding, Severity
    from mustwatch.said.troubles import Trouble


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    from mustwatch.commands.parser import lowered

    parser = subparsers.add_parser(
        "check",
        help="the findings, worst first",
        description="The findings, worst first: why, what to do, what clears them. Status 1: see to it.",
        allow_abbrev=False,
    )
    parser.add_argument(
        "--at-least",
        metavar="SEVERITY",
        type=lowered,
        choices=("danger", "today", "watch", "note"),
        help="list only these and worse; exit status 1 when there is one (default: list all, 1 at today)",
    )
    parser.add_argument(
        "--send",
        action="store_true",
        help="send what is new or worse to your channels, and the rest once a day; DEVELOPERS.md says how they are set",
    )
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the findings; 1 when one is at or above the asked severity or the record is not whole, else 0."""
    from mustwatch.ledger.reader import without_collector

    with without_collector():
        return _checked(args, context)


def _checked(args: argparse.Namespace, context: Context) -> int:
    from mustwatch.rules.finding import Severity

    least = Severity.from_word(args.at_least) if args.at_least else None
    troubles = context.troubles()
    found = context.findings()
    shown = [finding for finding in found if not finding.asleep and (least is None or finding.severity >= least)]
    asleep = [finding for finding in found if finding.asleep]
    channels = None
    if args.send:
        from mustwatch.commands.sending import sent

        channels = sent(context, found, troubles)
    if args.json:
        from mustwatch.ledger.visible import plain_json

        keys = {} if channels is None else {"sent": [each.as_keys() for each in channels]}
        context.out(plain_json(document(context.now, shown, asleep, troubles) | keys))
    else:
        for line in [*head(context, shown, troubles, least), *text(shown, asleep, troubles, context.now)]:
            context.out(line)
    if channels and any(each.what == "failed" for each in channels):
        return NOT_SAVED
    alarm = Severity.TODAY if least is None else least
    return int(any(each.grave for each in troubles) or any(finding.severity >= alarm for finding in shown))


def head(context: Context, shown: Sequence[Finding], troubles: Sequence[Trouble], least: Severity | None) -> list[str]:
    """Which cellar was looked at, when, over how many batches, and how much is to be seen to."""
    from mustwatch.ledger.visible import counted, visible
    from mustwatch.said.dates import full_moment
    from mustwatch.said.terminal import hung

    count = sum(batch.stage != "ended" for batch in context.cellar_view().batches.values())
    batches = "no batch" if not count else "1 batch" if count == 1 else f"{count} batches"
    wanted = f" at {least.word} or worse" if least else ""
    found = counted(len(shown), "finding") + wanted if shown else f"nothing{wanted}" if wanted else "nothing to do"
    if troubles:
        wrong = f"{counted(len(troubles), 'trouble')} with the record"
        found = wrong if not shown else f"{found}, {wrong}"
    where = visible(context.settings.name or str(context.cellar))
    said = hung("", f"{where}, {full_moment(context.now)}: {batches}, {found}")
    return [*said, ""] if shown or troubles else said


def document(
    now: datetime, shown: Iterable[Finding], asleep: Iterable[Finding], troubles: Iterable[Trouble]
) -> dict[str, Any]:
    """The JSON document of a check: what is wrong with the record, what is to be seen to, what was hushed."""
    from mustwatch.said.troubles import as_keys as keys_of

    return {
        "now": now,
        "troubles": [keys_of(trouble) for trouble in troubles],
        "findings": [as_keys(finding) for finding in shown],
        "hushed": [as_keys(finding) for finding in asleep],
    }


def as_keys(finding: Finding) -> dict[str, Any]:
    """One finding as stable keys."""
    keys = {name: value for name, value in finding._asdict().items() if name != "action"}
    return keys | {"severity": finding.severity.word, "folded": [as_keys(other) for other in finding.folded]}


def text(shown: list[Finding], asleep: list[Finding], troubles: Iterable[Trouble], now: datetime) -> list[str]:
    """The check as lines no wider than 80 columns."""
    lines: list[str] = []
    for trouble in troubles:
        lines += [*lines_of_trouble(trouble), ""]
    for finding in shown:
        lines += [*lines_of(finding, now), ""]
    if asleep:
        lines.append(f"{len(asleep)} hushed; `check --json` lists what sleeps and until when.")
    return lines if not lines or lines[-1] else lines[:-1]


def lines_of(finding: Finding, now: datetime) -> list[str]:
    """One finding as lines: its head, what was seen, why, what to do, what is missing, what clears it."""
    from mustwatch.ledger.visible import visible
    from mustwatch.said.terminal import hung

    lines = [f"{finding.severity.mark} {finding.severity.word.upper()}  {visible(finding.batch)}  {finding.rule}"]
    lines += hung("   ", visible(finding.says))
    return lines + [line for label, words in finding.told(now) for line in hung(f"   {label:<9}", visible(words))]


def lines_of_trouble(trouble: Trouble) -> list[str]:
    """One trouble of the record as lines: its head, what is wrong, the way back."""
    from mustwatch.ledger.visible import visible
    from mustwatch.said.terminal import hung

    lines = [f"{trouble.mark} RECORD  {visible(trouble.batch or 'cellar')}  {trouble.what}"]
    return [*lines, *hung("   ", visible(trouble.says)), *hung("   way back ", visible(trouble.way_back))]
