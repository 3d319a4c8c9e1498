"""What a deed is done to: the batch, its cellar, and what its answers are read against. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING

from mustwatch.ledger.visible import visible

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.cellar.fold import Cellar
    from mustwatch.ledger.events import Event
    from mustwatch.ledger.settings import Settings
    from mustwatch.rules.engine import Cache
    from mustwatch.rules.finding import Finding

MOST_NAMED = 12  # tags in a refusal; more would bury what was wrong


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


def batch_named(cellar: Cellar, tag: str) -> Batch:
    """The batch of a tag. Raises ValueError naming the tags that come near."""
    if tag in cellar.batches:
        return cellar.batches[tag]
    raise ValueError(f"no batch {visible(tag, limit=40)!r}; there is: {_tags(cellar, tag)}")


def _tags(cellar: Cellar, tag: str) -> str:
    """The tags there are, the nearest first and the ended last; of many the first, and how many more."""
    if not cellar.batches:
        return "none yet; `mustwatch begin` mixes one"
    from difflib import get_close_matches

    near = get_close_matches(tag, cellar.batches, n=3, cutoff=0.5)
    others = sorted(cellar.batches.values(), key=lambda batch: (batch.stage == "ended", batch.tag))
    names = list(dict.fromkeys([*near, *(batch.tag for batch in others)]))
    more = len(names) - MOST_NAMED
    rest = f" and {more} more; `mustwatch list --all` names them" if more > 0 else ""
    return ", ".join(visible(name) for name in names[:MOST_NAMED]) + rest
