"""A thermometer or a float that shows what cannot be.

What it looks for
    A probe whose values lie beyond what cellar.toml allows it (else -20 to
    50 °C, 0.970 to 1.200), ten times in a row, as the listener noted it. Its
    values are not taken for readings.

Why it matters
    A broken or misplaced probe says nothing of the must.

What to do
    See that it lies where it should; set it right, or change it.

Source
    The bounds: common practice, medium confidence. No must and no cellar goes there.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from mustwatch.rules import words
from mustwatch.rules.evidence.probes import State, of_batch, of_places
from mustwatch.rules.finding import Finding, Severity
from mustwatch.rules.rule import LIVING_STAGES, Rule
from mustwatch.rules.view import View

RULE = Rule(name="probe-absurd", severity=Severity.WATCH, stages=LIVING_STAGES)


def check(view: View) -> Iterable[Finding]:
    """A finding for each absurd probe of the batch."""
    yield from (_finding(view, state) for state in of_batch(view) if state.word == "absurd")


def check_cellar(views: Sequence[View]) -> Iterable[Finding]:
    """A finding for each absurd probe of a room."""
    yield from (_finding(view, state) for view, state in of_places(views) if state.word == "absurd")


def _finding(view: View, state: State) -> Finding:
    assert state.told is not None
    why = state.told.why
    it = f". It {why}" if why else ""
    return RULE.found(
        view,
        Severity.WATCH,
        f"The probe {state.name} cannot be right since {words.moment(view, state.told.at)}{it}."
        " Its values are not taken for readings.",
        why="A broken or misplaced probe says nothing of the must.",
        do=(
            "See that the probe lies where it should.",
            "Set its offset or its calibration right in cellar.toml, or change it.",
            "Read by hand until then.",
        ),
        clears_when="the probe shows what can be, or is taken out of cellar.toml.",
        evidence=(state.told.id,),
        since=state.told.at,
        missing=() if why else ("what it shows",),
    )
