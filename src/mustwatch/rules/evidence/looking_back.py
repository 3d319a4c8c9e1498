"""The same batch as it was judged at its earlier readings, so that one trembling reading does not turn a verdict."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.judgement import judge
from mustwatch.rules.view import View

MOST_STEPS = 8


def earlier_views(view: View, most: int = MOST_STEPS) -> Iterator[View]:
    """The view as it stood at each earlier reading of the same stretch, newest first, at most `most` of them."""
    batch = view.batch
    for _ in range(most):
        before = _without_last_reading(batch)
        if before is None:
            return
        batch = before
        at = batch.readings[-1].at
        yield View(batch, judge(batch, view.settings, at), view.settings, at)


def _without_last_reading(batch: Batch) -> Batch | None:
    """The batch before its last good reading; None when that opened the stretch."""
    if not batch.stretches or len(batch.stretches[-1].readings) < 2:
        return None
    last = batch.stretches[-1]
    kept = last.readings[:-1]
    readings = tuple(reading for reading in batch.readings if reading.at <= kept[-1].at)
    return replace(
        batch,
        readings=readings,
        stretches=(*batch.stretches[:-1], replace(last, readings=kept)),
        temperatures=tuple(t for t in batch.temperatures if t.at <= kept[-1].at),
    )
