"""A real log as the events its keeper would have written, under an airlock from the start and never bottled."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event
from tests.bench.logs import CLASSES, NOW, Log

ROOM = 1.2  # the vessel over the must: logs do not tell it
WORDS = (  # (part of what the log tells, kind, keys); the first that fits counts
    ("repitch", "pitched", {}),
    ("second yeast", "pitched", {}),
    ("honey", "added", {"what": "honey", "category": "honey"}),
    ("nutrient", "added", {"what": "nutrient", "category": "nutrient", "g": 1.0}),
    ("stabilised", "added", {"what": "sorbate", "category": "sorbate"}),
    ("sorbate", "added", {"what": "sorbate", "category": "sorbate"}),
    ("racked", "racked", {}),
    ("pressed", "racked", {}),
    ("strained", "racked", {}),
    ("siphoned", "racked", {}),
)


def story_of(log: Log) -> tuple[list[Event], list[datetime]]:
    """(events, times of the readings), oldest first. Amounts that the log does not tell stay unknown."""
    begins = NOW - timedelta(hours=log["readings"][-1][0])
    told: list[Event] = []

    def tell(hours: float, kind: str, **keys: Any) -> None:
        at = begins + timedelta(hours=hours, seconds=len(told) % 60)
        told.append(stamped(draft(kind, at, f"log-{log['id'].lower()}", **keys), f"e{len(told)}", len(told) + 1))

    litres = log.get("volume_l") or 4.0
    vessel = {"kind": "carboy", "capacity_l": litres * ROOM}
    tell(0, "mixed", volume_l=litres, vessel=vessel)
    tell(0, "pitched", yeast=_yeast(log))
    tell(0, "closed", closure="airlock")
    for event in log.get("events", []):
        _tell_event(tell, event, vessel, log)
    for hours, sg, celsius in log["readings"]:
        tell(hours, "read", gravity={"value": sg, "scale": "sg"}, must_c=celsius)
        tell(hours, "seen", airlock="bubbling")
    times = [event.at + timedelta(minutes=2) for event in told if event.kind == "read"]
    return sorted(told, key=lambda event: event.at), sorted(times)


def _tell_event(tell: Any, event: dict[str, Any], vessel: dict[str, Any], log: Log) -> None:
    what = event["what"].lower()
    kind, keys = next(((kind, keys) for part, kind, keys in WORDS if part in what), ("noted", {"note": event["what"]}))
    if kind == "pitched":
        keys = {"yeast": _yeast(log)}
    tell(event["hours"], kind, **keys, **({"vessel": vessel} if kind == "racked" else {}))
    if kind == "racked":
        tell(event["hours"], "closed", closure="airlock")


def _yeast(log: Log) -> dict[str, Any]:
    yeast = {"label": "yeast", "class": CLASSES.get(log.get("yeast_kind"), log.get("yeast_kind"))}
    return yeast | ({"tolerance_abv": log["yeast_tolerance_abv"]} if log.get("yeast_tolerance_abv") else {})
