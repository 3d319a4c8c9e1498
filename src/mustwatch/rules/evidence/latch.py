"""Keeping a finding steady while a number trembles on its threshold.

A finding may not come and go with the noise of the reading. So it is raised
at one level and cleared only at another, and both are read from the whole
story: the same story always gives the same answer, with nothing remembered
between two looks.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import NamedTuple, TypeGuard


class Sample(NamedTuple):
    """One number of the story: when, how much, and the event it comes from."""

    at: datetime
    value: float
    id: str


class Held(NamedTuple):
    """A number that has stayed beyond its threshold.

    since: the first sample beyond it; worst: the farthest; last: the newest; samples: all since.
    """

    since: datetime
    worst: Sample
    last: Sample
    samples: tuple[Sample, ...]

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of first, worst and last."""
        return tuple(dict.fromkeys((self.samples[0].id, self.worst.id, self.last.id)))


def held_above(samples: Iterable[Sample], raise_at: float, clear_at: float, clear_count: int = 1) -> Held | None:
    """The run of samples that began above `raise_at` and has not yet fallen to `clear_at`, or None.

    clear_at is the lower: between the two, what was stays. clear_count: so many samples in a row must have
    fallen that far before the run ends.

    >>> from datetime import UTC
    >>> def on(day, value): return Sample(datetime(2026, 3, day, tzinfo=UTC), value, f"e{day}")
    >>> held_above([on(1, 29), on(2, 30.2), on(3, 29.8)], raise_at=30, clear_at=29).since.day
    2
    >>> held_above([on(1, 29), on(2, 30.2), on(3, 28.9)], raise_at=30, clear_at=29) is None
    True
    """
    run: list[Sample] = []
    cleared = 0
    for sample in samples:
        cleared = cleared + 1 if run and sample.value <= clear_at else 0
        if cleared >= clear_count:
            run, cleared = [], 0
        elif not cleared and (run or sample.value > raise_at):
            run.append(sample)
    if not run:
        return None
    return Held(run[0].at, max(run, key=lambda sample: sample.value), run[-1], tuple(run))


def held_below(samples: Iterable[Sample], raise_at: float, clear_at: float, clear_count: int = 1) -> Held | None:
    """The run of samples that began below `raise_at` and has not yet risen to `clear_at` (the higher), or None."""
    turned = held_above(
        (Sample(sample.at, -sample.value, sample.id) for sample in samples), -raise_at, -clear_at, clear_count
    )
    if turned is None:
        return None
    back = tuple(Sample(sample.at, -sample.value, sample.id) for sample in turned.samples)
    return Held(turned.since, min(back, key=lambda sample: sample.value), back[-1], back)


def lasting(held: Held | None, at_least: timedelta) -> TypeGuard[Held]:
    """Whether two samples, that long apart, are both in the run: one bad sample is never enough."""
    return held is not None and held.last.at - held.since >= at_least
