"""Findings as the detail pane shows them: what was seen, why, what to do, what is missing, what clears it."""

from collections.abc import Sequence
from datetime import datetime

from mustwatch.rules.finding import Finding, Severity
from mustwatch.said.dates import moment
from mustwatch.screens.ink import ROOMY, Line, labelled, wrapped


def finding_lines(found: Sequence[Finding], now: datetime, width: int) -> list[Line]:
    """All findings of a batch, worst first, hushed ones as one line each at the end."""
    lines: list[Line] = []
    for finding in found:
        asleep = finding.hushed_until is not None and finding.severity is not Severity.DANGER
        lines += [_asleep(finding, now)] if asleep else [*_whole(finding, now, width), ()]
    return lines or [(("nothing found", "dim"),)]


def _asleep(finding: Finding, now: datetime) -> Line:
    until = moment(finding.hushed_until, now) if finding.hushed_until else ""
    return ((f"z {finding.severity.word} {finding.rule}: hushed until {until}", "dim"),)


def _whole(finding: Finding, now: datetime, width: int) -> list[Line]:
    role = finding.severity.word
    title: Line = ((f"{finding.severity.mark} {finding.severity.word}  ", role), (finding.rule, "strong"))
    lines = [title, *wrapped(finding.says, width)]
    why = labelled("why", finding.why, width)
    do = _steps(finding, width)
    lines += [*do, *why] if width < ROOMY else [*why, *do]
    for fact in finding.missing:
        lines += labelled("missing", fact, width)
    if finding.clears_when:
        lines += labelled("clears", f"when {finding.clears_when.removeprefix('when ')}", width)
    if finding.look_again:
        lines += labelled("look", f"again {moment(finding.look_again, now)}", width)
    if finding.hushed_until:
        lines += labelled("hushed", f"until {moment(finding.hushed_until, now)}; a danger stays in sight", width)
    for other in finding.folded:
        lines += labelled("with it", f"{other.rule}: {other.says}", width, "dim")
    return lines


def _steps(finding: Finding, width: int) -> list[Line]:
    lines: list[Line] = []
    for number, step in enumerate(finding.do, 1):
        lines += labelled("do" if number == 1 else "", f"{number}. {step}" if len(finding.do) > 1 else step, width)
    return lines
