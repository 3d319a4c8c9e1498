"""The real logs as batches, cut as a scorer cuts them, without the command line."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import fold
from mustwatch.ledger.events import Closed, Mixed, Pitched, Read
from mustwatch.ledger.settings import Settings

BESIDE = Path(__file__).parents[2].parent / "shared" / "logs" / "logs.jsonl"
LOGS = Path(os.environ.get("MUSTWATCH_LOGS", BESIDE))
NOW = datetime(2026, 1, 15, 12, tzinfo=UTC)
HORIZON_HOURS = 60 * 24
UPSETS = (
    "sugar", "honey", "added", "sweet", "fed", "step", "fruit", "sorbate", "stabil", "sulf", "repitch", "bottled",
    "cold",
)  # fmt: skip
CLASSES = {"wine": "white-wine", "champagne": "sparkling", None: "unknown"}

Log = dict[str, Any]


def logs() -> list[Log]:
    """The logs beside the repository, [] where there are none."""
    if not LOGS.exists():
        return []
    return [json.loads(line) for line in LOGS.read_text(encoding="utf-8").splitlines()]


def cuts(log: Log) -> Iterator[tuple[int, list[tuple[float, float]]]]:
    """(readings seen, later readings as hours on and gravity) for each cut that has a future without an upset."""
    readings = log["readings"]
    upset = [e["hours"] for e in log.get("events", []) if any(word in e["what"].lower() for word in UPSETS)]
    for count in range(2, len(readings)):
        last = readings[count - 1][0]
        later = [
            (hours - last, sg)
            for hours, sg, _ in readings[count:]
            if hours - last <= HORIZON_HOURS and not any(last < u <= hours for u in upset)
        ]
        if later and last > readings[count - 2][0]:
            yield count, later


def batch_of(log: Log, count: int) -> Batch:
    """The batch as it stood at its `count`-th reading, which is NOW."""
    last = log["readings"][count - 1][0]
    tag = f"l{log['id'].lower()}-{count}"

    def common(hours: float, kind: str) -> dict[str, Any]:
        return {"id": f"{tag}-{kind}-{hours:g}", "at": NOW - timedelta(hours=last - hours), "batch": tag, "kind": kind}

    volume = log.get("volume_l") or 4.0
    yeast = {"label": "yeast", "class": CLASSES.get(log.get("yeast_kind"), log.get("yeast_kind"))}
    if log.get("yeast_tolerance_abv"):
        yeast["tolerance_abv"] = log["yeast_tolerance_abv"]
    events = [
        Mixed(**common(0, "mixed"), name=tag, volume_l=volume, vessel={"kind": "jug", "capacity_l": volume * 1.2}),
        Pitched(**common(0, "pitched"), yeast=yeast),
        Closed(**common(0, "closed"), closure="airlock"),
    ]
    for hours, sg, celsius in log["readings"][:count]:
        events.append(Read(**common(hours, "read"), gravity={"value": sg, "scale": "sg"}, must_c=celsius))
    return fold(events, Settings(), NOW).batches[tag]
