"""The hydrometer was never held against water and sugar.

What it looks for
    Gravities read by hydrometer in this cellar, ten or more, and within twelve months no check: an instrument recorded,
    or a note that says the hydrometer was checked. It is said once for the whole cellar, for three days from the
    reading with which it fell due, and again a year later.

Why it matters
    A hydrometer can be right in water and eight points low in sugar. A constant error drops out of a fall, and stays in
    the alcohol and in what is called dry.

What to do
    At the temperature printed inside: 1.000 in water, and 1.092 in 22 g of table sugar made up to 100 g with water.
    Note what it showed, such as "hydrometer checked: water 1.001, sugar 1.093", or record the instrument with its
    offset.

Source
    1.0920 for 22 % sucrose at 20 °C: tables of sugar solutions, high confidence. That hydrometers err so far: two told
    cases, medium confidence.
"""

import re
from collections.abc import Sequence
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch, Reading, per_batch
from mustwatch.ledger.events import Instrument
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View

RULE = Rule(
    name="glass-never-checked",
    severity=Severity.NOTE,
    thresholds={
        "months": Threshold(12.0, 3.0, 60.0, "months", "for which a check holds"),
        "readings": Threshold(10.0, 2.0, 200.0, "readings", "by hydrometer before it is asked for"),
    },
)
TOLD = timedelta(days=3)  # said with a reading, not kept up for months
CHECKED = re.compile(r"\b(?:glass|hydrometer)\b.{0,30}\b(?:check|test|calibrat)|\bcheck\w* .{0,20}\bhydrometer", re.I)


def check_cellar(views: Sequence[View]) -> Findings:
    """One finding for the cellar, with the reading by which a check of the hydrometer fell due."""
    if not views:
        return
    checks = _checks(views)
    told = _fell_due(views, checks)
    if told is None:
        return
    reading, view = told
    answered = view.now - reading.at >= TOLD or any(at >= reading.at for at in checks)
    if not answered and view.batch.stage_in_vessel in RULE.stages:
        yield _finding(view, reading)


def _fell_due(views: Sequence[View], checks: Sequence[datetime]) -> tuple[Reading, View] | None:
    """The last reading with which it was said, and its batch; None where it never was."""
    told: tuple[Reading, View] | None = None
    months = timedelta(days=30.44 * RULE.number(views[0], "months"))
    read = [(reading, view) for view in views for reading in _by_hand(view.batch)]
    for number, (reading, view) in enumerate(sorted(read, key=lambda pair: (pair[0].at, pair[1].batch.tag)), 1):
        at = reading.at
        if number < RULE.number(views[0], "readings") or any(at - months < checked <= at for checked in checks):
            continue
        if told is None or at - told[0].at >= months:
            told = (reading, view)
    return told


@per_batch
def _by_hand(batch: Batch) -> tuple[Reading, ...]:
    """The readings by hydrometer."""
    return tuple(reading for reading in batch.readings if reading.scale == "sg" and not reading.floating)


@per_batch
def _checks_noted(batch: Batch) -> tuple[datetime, ...]:
    return tuple(event.at for event in batch.story if event.note and CHECKED.search(event.note))


def _checks(views: Sequence[View]) -> list[datetime]:
    """When the hydrometer was checked, as instruments and notes tell."""
    own = [
        note.at
        for note in views[0].notes
        if (isinstance(note, Instrument) and note.what in (None, "hydrometer"))
        or (note.note and CHECKED.search(note.note))
    ]
    return [*own, *(at for view in views for at in _checks_noted(view.batch))]


def _finding(view: View, reading: Reading) -> Finding:
    glass = () if view.settings.hydrometer_c else ("the temperature printed in the hydrometer; 20 °C is assumed",)
    return RULE.found(
        view,
        Severity.NOTE,
        f"No check of the hydrometer is on record in the last {RULE.number(view, 'months'):.0f} months.",
        why="It can be right in water and eight points low in sugar. Falls stay true, alcohol and dryness do not.",
        do=(
            "Bring water to the temperature printed in the hydrometer. It should read 1.000.",
            "Make 22 g of sugar up to 100 g with water. That should read 1.092.",
            'Note what it showed, such as "hydrometer checked: water 1.001, sugar 1.093".',
        ),
        clears_when="it is checked and that is noted, or three days have passed.",
        evidence=(reading.id,),
        since=reading.at,
        missing=glass,
        action=("note", "hydrometer checked: water 1.000, sugar 1.092"),
    )
