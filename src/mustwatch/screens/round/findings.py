"""Findings as the detail pane shows them: first what to do and what was found, further down why and what ends it."""

from collections.abc import Sequence
from datetime import datetime

from mustwatch.rules.finding import Finding
from mustwatch.said.dates import day, moment
from mustwatch.screens.ink import ROOMY, Line, labelled, wrapped


def finding_lines(found: Sequence[Finding], now: datetime, width: int) -> list[Line]:
    """What to do and what was found, worst first, hushed ones as one line each at the end."""
    awake = [line for finding in found if not finding.asleep for line in (*_head(finding, now, width), ())]
    return awake[:-1] + [_asleep(finding, now) for finding in found if finding.asleep]


def reason_lines(found: Sequence[Finding], now: datetime, width: int) -> list[Line]:
    """Why each finding matters, what is missing, what ends it and when to look again."""
    awake = [finding for finding in found if not finding.asleep]
    lines: list[Line] = []
    for finding in awake:
        if len(awake) > 1:
            lines.append(((finding.rule, "strong"),))
        for label, text in finding.reasons(now):
            # The heading of the section says why already.
            lines += labelled("" if label == "why" and width >= ROOMY else label, text, width)
    return lines


def _asleep(finding: Finding, now: datetime) -> Line:
    until = moment(finding.hushed_until, now) if finding.hushed_until else ""
    return ((f"z {finding.severity.word} {finding.rule}: hushed until {until}", ""),)


def _head(finding: Finding, now: datetime, width: int) -> list[Line]:
    role = finding.severity.word
    since = f"  since {day(finding.since, now)}" if finding.since else ""
    title = f"{finding.severity.mark} {role}  ", f"{finding.rule}"
    fits = sum(map(len, title)) + len(since) <= width
    lines: list[Line] = [((title[0], role), (title[1], "strong"), (since if fits else "", ""))]
    if width >= ROOMY:
        for place, text in enumerate(finding.steps):
            lines += labelled("" if place else "do", text, width)
        return lines + labelled("found", finding.says, width)
    for text in finding.steps:
        lines += wrapped(text, width, rest="   " if len(finding.do) > 1 else "")
    return lines + wrapped(f"found: {finding.says}", width)
