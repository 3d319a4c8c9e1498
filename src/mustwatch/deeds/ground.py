"""What a deed is done to: the batch, its cellar, and what its answers are read against. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.cellar.fold import Cellar
    from mustwatch.ledger.events import Event
    from mustwatch.ledger.settings import Settings
    from mustwatch.rules.engine import Cache
    from mustwatch.rules.finding import Finding


@dataclass(frozen=True)
class Ground:
    """What a deed is done to, and what its answers are read against.

    tag: the batch; None for the cellar, or for a batch that is yet to be. events: all of the ledger, for what the
    rules would say; cache: their judgements so far. scaled: whether the scale of a bare temperature stands beside it.
    """

    tag: str | None
    cellar: Cellar
    now: datetime
    events: Sequence[Event] = ()
    cache: Cache | None = None
    scaled: bool = False

    @property
    def settings(self) -> Settings:
        """What the cellar has settled for itself."""
        return self.cellar.settings

    @property
    def batch(self) -> Batch | None:
        """The batch, where there is one."""
        return self.cellar.batches.get(self.tag) if self.tag else None

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules have found in the cellar, worst first."""
        from mustwatch.rules.engine import judge_cellar

        return judge_cellar(self.cellar, self.cellar.now, self.cache)
