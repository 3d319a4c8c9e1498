"""What a rule may look at: one batch, what is judged of it, the cellar's settings and the time."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.state import Verdict
from mustwatch.ledger.settings import Settings

if TYPE_CHECKING:
    from mustwatch.ledger.events import Event


class View(NamedTuple):
    """One batch as a rule sees it.

    notes: the cellar's own events, such as instruments, which belong to no batch.
    """

    batch: Batch
    verdict: Verdict
    settings: Settings
    now: datetime
    notes: tuple[Event, ...] = ()


def look_in(view: View, days: float) -> datetime:
    """A time so many days from now."""
    return view.now + timedelta(days=days)
