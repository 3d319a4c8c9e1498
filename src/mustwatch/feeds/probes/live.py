"""What the listener shows at this moment, through a small file in local state: losing it costs nothing."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import asdict
from datetime import UTC, datetime, timedelta
from pathlib import Path

from mustwatch.said.live import Live

NAME = "live.json"
OLDEST = timedelta(days=3)  # a listener that is gone for longer is not there any more


def leave(folder: Path, values: Iterable[Live], now: datetime) -> None:
    """Puts the newest values where a screen finds them. Never raises."""
    told = [{**asdict(value), "at": _written(value.at), "since": _written(value.since)} for value in values]
    beside = folder / f".{NAME}.tmp"
    with suppress(OSError):
        beside.write_text(json.dumps({"at": now.astimezone(UTC).isoformat(), "probes": told}), "utf-8")
        os.replace(beside, folder / NAME)


def live(folder: Path, now: datetime) -> tuple[Live, ...]:
    """The newest values of this machine's listener; none where it has not run for days."""
    try:
        told = json.loads((folder / NAME).read_text("utf-8"))
        if now - datetime.fromisoformat(told["at"]) > OLDEST:
            return ()
        return tuple(
            Live(**{**each, "at": _read(each["at"]), "since": _read(each["since"])}) for each in told["probes"]
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return ()


def _written(at: datetime | None) -> str | None:
    return at.astimezone(UTC).isoformat() if at else None


def _read(text: str | None) -> datetime | None:
    return datetime.fromisoformat(text) if text else None
