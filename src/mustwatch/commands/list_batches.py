"""`list`: every batch in one line, in the order of need; made to be heard as well as seen."""

from __future__ import annotations

import argparse
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.judgement.state import Verdict
    from mustwatch.rules.finding import Finding


@dataclass(frozen=True, slots=True)
class Line:
    """One batch in the list. worst: the worst of its findings that no hush hides, None without one."""

    batch: Batch
    verdict: Verdict
    worst: Finding | None
    asleep: int

    @property
    def score(self) -> float | None:
        """The last score it was given, of 10."""
        from mustwatch.cellar.tastings import last_score

        return last_score(self.batch.tastings)


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "list",
        help="every batch in one line",
        description="Every batch in one line, the one that needs you most first.",
        allow_abbrev=False,
    )
    parser.add_argument("--all", action="store_true", help="ended batches too")
    parser.add_argument(
        "--rated", action="store_true", help="those tasted with a score, the best first; ended ones too"
    )
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the list."""
    from mustwatch.ledger.visible import plain_json

    lines = [one for one in lines_of(context) if args.all or args.rated or one.batch.stage != "ended"]
    if args.rated:
        lines = sorted((one for one in lines if one.score is not None), key=lambda one: -(one.score or 0.0))
    if args.json:
        context.out(plain_json({"now": context.now, "batches": [as_keys(one) for one in lines]}))
        return DONE
    for one in lines:
        context.out(rated(one, context) if args.rated else text(one, context))
    if not lines and args.rated:
        context.out("no batch was tasted with a score; `mustwatch taste TAG --score 8` gives one")
    elif not lines:
        ended = len(context.cellar_view().batches)
        context.out("no batch is under way; `list --all` names the ended ones" if ended else "no batch yet")
    return DONE


def lines_of(context: Context) -> list[Line]:
    """All batches in the order of need."""
    from mustwatch.rules.engine import Cache
    from mustwatch.rules.need import need

    cellar, cache = context.cellar_view(), Cache()
    worst: dict[str, Finding] = {}
    asleep: Counter[str] = Counter()
    for finding in context.findings(cellar, cache):
        if finding.asleep:
            asleep[finding.batch] += 1
        else:
            worst.setdefault(finding.batch, finding)  # they come worst first
    lines = [Line(batch, cache.known[tag][1], worst.get(tag), asleep[tag]) for tag, batch in cellar.batches.items()]
    return sorted(lines, key=lambda one: need(_severity(one), one.batch.stage, one.batch.last_looked, one.batch.tag))


def _severity(line: Line) -> int | None:
    return None if line.worst is None else int(line.worst.severity)


def as_keys(line: Line) -> dict[str, Any]:
    """One batch as stable keys; `sg` corrected, `worst` a severity and `worst_rule` what found it."""
    batch, latest, worst = line.batch, line.batch.latest, line.worst
    return {
        "batch": batch.tag,
        "name": batch.name,
        "stage": batch.stage,
        "since": batch.stage_since,
        "sg": round(latest.sg, 5) if latest else None,
        "read_at": latest.at if latest else None,
        "seen_at": batch.last_looked,
        "state": line.verdict.state,
        "worst": worst.severity.word if worst else None,
        "worst_rule": worst.rule if worst else None,
        "score": line.score,
    }


def text(line: Line, context: Context) -> str:
    """One batch in one line, without signs or columns: `heather-2: today, stalled; primary since 3 May; ...`."""
    from mustwatch.ledger.visible import visible
    from mustwatch.said.standing import in_a_line

    found = f"{line.worst.severity.word}, {line.worst.rule}" if line.worst else "nothing to do"
    found += f", {line.asleep} hushed" if line.asleep else ""
    stands = in_a_line(line.batch, line.verdict, context.now, context.settings)
    return visible(f"{line.batch.tag}: {found}; {stands}")


def rated(line: Line, context: Context) -> str:
    """What a batch was thought of, in one line: `meadow-1: 8 of 10, tasted once, last 14 weeks ago; again`."""
    from mustwatch.said.standing import rated_words

    return f"{line.batch.tag}: {rated_words(line.batch, line.score or 0.0, context.now)}"
