"""The fields of the reading form, and what they were understood to mean."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mustwatch.ledger.events import Event

FIELDS = ("gravity", "scale", "sample", "must", "airlock", "surface", "note", "when")
CHOICES = {
    "scale": ("SG", "Bx", "P"),
    "airlock": ("bubbling", "still", "dry", "foamed"),
    "surface": ("clean", "foam", "ring", "rafts", "film", "fuzzy", "coloured"),
}


@dataclass(frozen=True, slots=True)
class Draft:
    """What the fields mean. With a fault nothing may be saved. faults: field -> one line saying what would be right."""

    events: tuple[Event, ...] = ()
    understood: tuple[str, ...] = ()
    faults: Mapping[str, str] = field(default_factory=dict)
    empty: bool = False
