"""A thermometer or a float that shows, but does not measure.

What it looks for
    A probe that shows the very same value for days, or the 85 °C that a
    1-wire sensor shows when it was switched on and has not measured, as the
    listener noted it. Its values are not taken for readings.

Why it matters
    A value that never moves looks like a calm cellar while it may be anything.

What to do
    Warm it in the hand and see whether it moves; mend its supply or change it.

Source
    The kernel's document on the driver (w1_therm) on the power-on value, high confidence.
    Three days without the least change: common practice, low confidence.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from mustwatch.rules import words
from mustwatch.rules.evidence.probes import State, of_batch, of_places
from mustwatch.rules.finding import Finding, Severity
from mustwatch.rules.rule import LIVING_STAGES, Rule
from mustwatch.rules.view import View

RULE = Rule(name="probe-stuck", severity=Severity.WATCH, stages=LIVING_STAGES)


def check(view: View) -> Iterable[Finding]:
    """A finding for each stuck probe of the batch."""
    yield from (_finding(view, state) for state in of_batch(view) if state.word == "stuck")


def check_cellar(views: Sequence[View]) -> Iterable[Finding]:
    """A finding for each stuck probe of a room."""
    yield from (_finding(view, state) for view, state in of_places(views) if state.word == "stuck")


def _finding(view: View, state: State) -> Finding:
    assert state.told is not None
    why = state.told.why
    it = f". It {why}" if why else ""
    return RULE.found(
        view,
        Severity.WATCH,
        f"The probe {state.name} is stuck since {words.moment(view, state.told.at)}{it}."
        " Its values are not taken for readings.",
        why="A value that never moves looks like a calm cellar while it may be anything.",
        do=(
            "Warm it in the hand, and see whether it moves.",
            "Mend its supply, or change it.",
            "Read the temperature by hand until then.",
        ),
        clears_when="the probe moves again, or is taken out of cellar.toml.",
        evidence=(state.told.id,),
        since=state.told.at,
        missing=() if why else ("what it shows",),
    )
