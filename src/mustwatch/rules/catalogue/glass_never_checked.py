"""The hydrometer was never held against water and sugar.

What it looks for
    Gravities read by hydrometer in this cellar, ten or more, and within twelve months no check: an instrument recorded,
    or a note that says the hydrometer was checked. It is said once for the whole cellar, on the batch that
    has stood there the longest.

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

from mustwatch.cellar.batch import Batch, per_batch
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
CHECKED = re.compile(r"\b(?:glass|hydrometer)\b.{0,30}\b(?:check|test|calibrat)|\bcheck\w* .{0,20}\bhydrometer", re.I)


def check_cellar(views: Sequence[View]) -> Findings:
    """One finding for the cellar when no check of the glass is on record."""
    read = [view for view in views if view.batch.stage_in_vessel in RULE.stages and _by_glass(view.batch)]
    if not read or sum(_by_glass(view.batch) for view in views) < RULE.number(read[0], "readings"):
        return
    # Whoever was hushed keeps the note, else the oldest: it would wander from batch to batch.
    hushed = [view for view in read if any(hush.rule == RULE.name for hush in view.batch.hushes)]
    view = min(hushed or read, key=lambda view: (_began(view), view.batch.tag))
    if not _checked(views, view):
        yield _finding(view)


def _began(view: View) -> datetime:
    return view.batch.started or view.now


@per_batch
def _by_glass(batch: Batch) -> int:
    return sum(reading.scale == "sg" and not reading.floating for reading in batch.readings)


@per_batch
def _last_check(batch: Batch) -> datetime | None:
    told = [event.at for event in batch.story if event.note and CHECKED.search(event.note)]
    return max(told, default=None)


def _checked(views: Sequence[View], view: View) -> bool:
    since = view.now - timedelta(days=30.44 * RULE.number(view, "months"))
    if any(
        note.at >= since and isinstance(note, Instrument) and note.what in (None, "hydrometer") for note in view.notes
    ):
        return True
    if any(note.at >= since and note.note and CHECKED.search(note.note) for note in view.notes):
        return True
    return any((told := _last_check(other.batch)) is not None and told >= since for other in views)


def _finding(view: View) -> Finding:
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
        clears_when="it is checked, and that is noted or recorded with its offset.",
        evidence=(next(r.id for r in reversed(view.batch.readings) if r.scale == "sg"),),
        missing=glass,
        action=("note", "hydrometer checked: water 1.000, sugar 1.092"),
    )
