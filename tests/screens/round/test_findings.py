"""Findings in the detail pane: what to do stands first, and a danger's steps are in sight at once."""

from __future__ import annotations

import pytest
from rules.scenario import stories_of
from screens.small_cellar import NOW
from screens.text import text_of

from mustwatch.rules.catalogue import RULES
from mustwatch.rules.finding import Finding, Severity
from mustwatch.screens.round.findings import finding_lines, reason_lines

# The detail pane of 80x24: sixteen lines of 36 cells, of which the name takes the first and the hint the last.
WIDTH, ROOM = 36, 14

FOUND = Finding("lock-dry", "fir", Severity.TODAY, "The lock is dry.", "Air gets in.", ("Fill it.", "Look again."),
                "it holds liquid again", since=NOW)  # fmt: skip


@pytest.mark.parametrize("width", [36, 70])
def test_what_to_do_stands_before_what_was_found_and_why(width):
    """A tired person reads the first lines."""
    text = text_of(finding_lines([FOUND], NOW, width))
    assert text.index("1. Fill it.") < text.index("2. Look again.") < text.index("The lock is dry.")
    assert "since 14 May" in text.splitlines()[0] and "Air gets in." not in text
    assert "Air gets in." in text_of(reason_lines([FOUND], NOW, width))


def test_a_hushed_finding_takes_one_line_and_gives_no_reasons():
    """It is out of the way until its time."""
    asleep = FOUND.hushed(NOW)
    assert len(finding_lines([asleep], NOW, WIDTH)) == 1
    assert reason_lines([asleep], NOW, WIDTH) == []


@pytest.mark.parametrize("module", RULES, ids=lambda module: module.RULE.name)
def test_all_steps_of_a_danger_are_in_sight_at_eighty_by_twenty_four(module):
    """Without a key: what must be done now, before anything else."""
    for story in stories_of(module.RULE.name):
        for finding in story.found(module):
            if finding.severity is Severity.DANGER:
                lines = text_of(finding_lines([finding], NOW, WIDTH)).splitlines()
                steps = next(number for number, line in enumerate(lines) if line.startswith("found: "))
                assert steps <= ROOM, "\n".join(lines)
