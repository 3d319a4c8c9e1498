"""The words quick entry knows, and the pot in which what a line says is gathered."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

DONE = {
    "swirled": "swirled", "stirred": "swirled", "degassed": "swirled", "aerated": "aerated", "shaken": "aerated",
    "pushed": "cap_pushed", "punched": "cap_pushed", "cleaned": "cleaned", "sanitised": "cleaned",
    "sanitized": "cleaned",
}  # fmt: skip
SEEN = {
    "airlock": ("bubbling", "still", "dry", "foamed"),
    "surface": ("clean", "foam", "ring", "rafts", "film", "fuzzy", "coloured"),
    "clarity": ("murky", "hazy", "clear"),
}
SEEN_WORDS = {word: key for key, words in SEEN.items() for word in words}
SAME_WORD = {
    "colored": "coloured", "krausen": "ring", "mould": "fuzzy", "mold": "fuzzy", "foaming": "foam",
    "bubbles": "bubbling", "swirl": "swirled", "stir": "swirled", "degas": "swirled", "aerate": "aerated",
}  # fmt: skip
NEAR = {"cloudy": "murky or hazy", "quiet": "still", "silent": "still", "active": "bubbling", "foamy": "foam"}
INSTRUMENTS = ("refractometer", "hydrometer")
MEASURES = {"ph": "ph", "ta": "ta_g_l", "so2": "free_so2_mg_l"}
WHOSE = ("must", "air", "sample")


@dataclass(slots=True)
class Pot:
    """What has been gathered from the line so far. unknown: words nobody knows, asked about together."""

    gravity: dict[str, Any] = field(default_factory=dict)
    read: dict[str, Any] = field(default_factory=dict)
    seen: dict[str, Any] = field(default_factory=dict)
    done: list[str] = field(default_factory=list)
    added: list[dict[str, Any]] = field(default_factory=list)
    removed: list[str] = field(default_factory=list)
    closure: str | None = None
    notes: list[str] = field(default_factory=list)
    bare_c: list[float] = field(default_factory=list)
    typed: list[str] = field(default_factory=list)
    questions: list[str] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)
    when: str = ""
    gallon: str | None = None

    def settle(self, place: dict[str, Any], key: str, value: Any, name: str) -> None:
        """Puts a value in its place; another value there already is asked about, never replaced."""
        if place.get(key, value) != value:
            self.questions.append(f"{name} {_said(place[key])} and {_said(value)}: which one?")
        place[key] = value


def _said(value: Any) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)
