"""Findings as the detail pane shows them: what was seen, why, what to do, what is missing, what clears it."""

from collections.abc import Sequence
from datetime import datetime

from mustwatch.rules.finding import Finding
from mustwatch.said.dates import moment
from mustwatch.screens.ink import ROOMY, Line, labelled, wrapped


def finding_lines(found: Sequence[Finding], now: datetime, width: int) -> list[Line]:
    """All findings of a batch, worst first, hushed ones as one line each at the end."""
    lines: list[Line] = []
    for finding in found:
        lines += [_asleep(finding, now)] if finding.asleep else [*_whole(finding, now, width), ()]
    return lines or [(("nothing found", "dim"),)]


def _asleep(finding: Finding, now: datetime) -> Line:
    until = moment(finding.hushed_until, now) if finding.hushed_until else ""
    return ((f"z {finding.severity.word} {finding.rule}: hushed until {until}", "dim"),)


def _whole(finding: Finding, now: datetime, width: int) -> list[Line]:
    role = finding.severity.word
    title: Line = ((f"{finding.severity.mark} {role}  ", role), (finding.rule, "strong"))
    lines = [title, *wrapped(finding.says, width)]
    told = finding.told(now)
    if width < ROOMY:
        # Where not all fits at once, what to do comes before the reason.
        told.insert(len(finding.do), told.pop(0))
    for label, text in told:
        lines += labelled(label, text, width, "dim" if label == "with it" else "")
    return lines
