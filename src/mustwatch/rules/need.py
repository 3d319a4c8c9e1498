"""The order in which batches need somebody, for every list of them."""

from datetime import UTC, datetime
from typing import Any

FIRST = datetime.min.replace(tzinfo=UTC)


def need(severity: int | None, stage: str, looked: datetime | None, tag: str) -> tuple[Any, ...]:
    """The sorting key: ended last, worst finding first, bottles after vessels, then the longest unlooked-at.

    severity: of the worst waking finding, None without one; looked: when somebody last stood before the batch.
    """
    return (
        stage == "ended",
        -(severity if severity is not None else -1),
        stage == "bottled",
        looked or FIRST,
        tag,
    )
