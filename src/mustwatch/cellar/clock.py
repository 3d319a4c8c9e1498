"""The time of a look: this machine's clock may be behind what is written down, and a date may be a slip.

A date that runs ahead of the clock it was written by is a slip: the id holds that clock. A date as late as its id
was written by a clock that read so. Then this machine's clock is behind, and the newest entry tells the time: a
closure written down elsewhere is on the vessel whatever this clock says. One clock that ran wild must not age the
whole cellar: an entry that lies years from all others is taken for a slip too.
"""

from collections import defaultdict
from datetime import datetime, timedelta

from mustwatch.cellar.corrections import Corrected
from mustwatch.ledger.clock import time_of
from mustwatch.ledger.events import Event

CLOCKS_AGREE = timedelta(minutes=1)  # as near as clocks that are set come to each other
CLOCKS_DIFFER = timedelta(hours=1)  # between two devices of a cellar, without a date being wrong
LONGEST_SILENCE = timedelta(days=400)  # in a cellar that is kept somebody writes something once a year


def present(right: Corrected, clock: datetime) -> datetime:
    """The later of the clock and the newest entry that can be believed."""
    ahead = sorted(event.at for event in right.events if event.at > clock and not _is_slip(event, right))
    if not ahead:
        return clock
    reached = clock if any(event.at <= clock for event in right.events) else ahead[0]
    for at in ahead:
        if at - reached > LONGEST_SILENCE:
            break
        reached = at
    return max(clock, reached)


def dated_ahead(right: Corrected, now: datetime, live: bool) -> dict[str | None, tuple[Event, ...]]:
    """Entries by batch that are dated after now and have happened all the same: their date is wrong.

    live: nobody looks back, so that whatever is written down was written by now.
    """
    found: defaultdict[str | None, list[Event]] = defaultdict(list)
    for event in right.events:
        if event.at > now and (live or (event.at > now + CLOCKS_DIFFER and _is_written(event, now))):
            found[event.batch].append(event)
    return {tag: tuple(its) for tag, its in found.items()}


def _is_written(event: Event, now: datetime) -> bool:
    return (written := time_of(event.id)) is not None and written <= now


def _is_slip(event: Event, right: Corrected) -> bool:
    """Whether the date lies ahead of the clock that wrote it, or that corrected it last."""
    ids = (event.id, right.acts.get(event.id, "").rpartition("+")[2])
    written = [at for each in ids if (at := time_of(each)) is not None]
    return bool(written) and event.at > max(written) + CLOCKS_DIFFER
