"""What a look at a whole story gave, kept while the batch stays the same object: a pure function asked once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from mustwatch.cellar.batch import Batch

Result = TypeVar("Result")


def per_batch(function: Callable[[Batch], Result]) -> Callable[[Batch], Result]:
    """The same function, which looks at an unchanged batch once only.

    A batch is frozen, and the fold hands the same object on while nothing of it changes; so the object is its
    own key. For what a cellar-wide rule asks of every batch after every key.
    """
    kept: dict[str, tuple[Batch, Result]] = {}

    @wraps(function)
    def recalled(batch: Batch) -> Result:
        known = kept.get(batch.tag)
        if known is None or known[0] is not batch:
            known = kept[batch.tag] = (batch, function(batch))
        return known[1]

    return recalled
