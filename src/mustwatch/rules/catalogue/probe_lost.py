"""A thermometer or a float that should report tells nothing.

What it looks for
    A probe of cellar.toml that cannot be read, whose checksum fails or that
    keeps silent for an hour, as the listener noted it; and one that has not
    written a line for more than a day, for then the listener may be down.

Why it matters
    Nobody watches the warmth. Rules go by the last temperature on record, and
    it grows old.

What to do
    Look at the wire, the supply and the listener, and read by hand meanwhile.

Source
    The listener writes a line at least each eight hours while it hears a
    probe; three of them missing is a day and two hours. Common practice, medium confidence.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from mustwatch.rules import words
from mustwatch.rules.evidence.probes import State, of_batch, of_places
from mustwatch.rules.finding import Finding, Severity
from mustwatch.rules.rule import LIVING_STAGES, Rule, Threshold
from mustwatch.rules.view import View

RULE = Rule(
    name="probe-lost",
    severity=Severity.WATCH,
    stages=LIVING_STAGES,
    thresholds={"silent": Threshold(26.0, 9.0, 400.0, "hours", "without a line, after which a probe counts as lost")},
)


def check(view: View) -> Iterable[Finding]:
    """A finding for each silent probe of the batch."""
    yield from (found for state in of_batch(view) if (found := _finding(view, state)))


def check_cellar(views: Sequence[View]) -> Iterable[Finding]:
    """A finding for each silent probe of a room."""
    yield from (found for view, state in of_places(views) if (found := _finding(view, state)))


def _finding(view: View, state: State) -> Finding | None:
    last = state.last
    if last is None or state.word in ("stuck", "absurd"):
        return None
    silent = (view.now - last).total_seconds() / 3600 > RULE.number(view, "silent")
    if state.word != "lost" and not silent:
        return None
    why = state.told.why if state.told and state.word == "lost" else None
    it = f". It {why}" if why else ""
    since = state.told.at if state.told and state.word == "lost" else last
    where = f" ({state.place})" if state.place else ""
    return RULE.found(
        view,
        Severity.WATCH,
        f"The probe {state.name}{where} has given no value since {words.moment(view, since)}{it}.",
        why="Nobody watches the warmth now. Rules go by the last temperature on record.",
        do=(
            "Look at its wire, its supply and its radio.",
            "See that the listener runs.",
            "Read the temperature by hand until it is back.",
        ),
        clears_when="the probe reports again, or is taken out of cellar.toml.",
        evidence=[event.id for event in (state.told, state.read) if event],
        since=since,
        missing=() if why else ("what is wrong with it",),
    )
