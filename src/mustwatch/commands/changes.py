"""The changes `fix` is given: KEY=VALUE, each value read as the entry itself would be read."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import Refused
from mustwatch.ledger.visible import visible

if TYPE_CHECKING:
    from mustwatch.deeds.deed import Ground
    from mustwatch.ledger.events import Event

NUMBERS = frozenset(
    ("ph", "ta_g_l", "free_so2_mg_l", "tolerance_abv", "score_of_10", "offset", "division", "factor", "sugar_pct",
     "water_pct", "rating_bar", "nitrogen_mg_per_g", "size_ml", "sg", "final_sg")
)  # fmt: skip
WORDS = frozenset(
    ("note", "what", "name", "label", "style", "place", "liquid", "fit", "how", "why", "look", "nose", "palate",
     "balance", "instrument", "rule")
)  # fmt: skip


def changes_of(ground: Ground, target: Event, words: Sequence[str]) -> dict[str, Any]:
    """The changes by path, metric. A bare figure is in the key's own unit. Raises Refused."""
    found: dict[str, Any] = {}
    for word in words:
        path, sign, value = word.partition("=")
        if not sign or not path:
            raise Refused(f"{visible(word, limit=60)!r} is no change; write KEY=VALUE, such as gravity.value=1.042")
        try:
            found |= _change(ground, target, path, value)
        except ValueError as fault:
            raise Refused(f"not changed: {visible(str(fault))}") from None
    return found


def _change(ground: Ground, target: Event, path: str, text: str) -> dict[str, Any]:
    from mustwatch.deeds.ground import batch_named
    from mustwatch.deeds.readers import closure, past, to_come

    key = path.split(".")[-1]
    if text == "null" or key in ("v", "id", "seq", "kind", "crc"):
        return {path: None if text == "null" else text}
    if path == "batch":
        return {path: batch_named(ground.cellar, text.strip().lower()).tag}
    if path in ("gravity", "gravity.value") and not text.lstrip().startswith(("{", "[")):
        return _gravity(target, text)
    if key in ("at", "until", "taste_by"):
        return {path: (past if key == "at" else to_come)(text, ground).isoformat()}
    if key == "closure":
        return {path: closure(text, ground)}
    return {path: _figure(ground, key, text)}


def _gravity(target: Event, text: str) -> dict[str, Any]:
    from mustwatch.entry.pot import gravity_fault, gravity_of, number_of

    before = getattr(target, "gravity", None)
    scale = before.scale if before is not None else "sg"
    bare = number_of(text)
    # A bare figure is on the scale the reading has; 1.042 is a gravity on whichever.
    found = gravity_of(text.strip()) or (None if bare is None else (bare, scale))
    if found is None:
        raise ValueError(f"{text[:40]!r} is no gravity; write it like 1.042 or 10.5Bx")
    if fault := gravity_fault(*found, text.strip()):
        raise ValueError(fault)
    return {"gravity.value": found[0]} | ({"gravity.scale": found[1]} if found[1] != scale or before is None else {})


def _figure(ground: Ground, key: str, text: str) -> Any:
    """A quantity in the key's unit, with or without its sign; else what JSON makes of it, else the text."""
    from mustwatch.entry.pot import number_of
    from mustwatch.entry.quantity import mass_g, temperature_c, volume_l

    readers = {
        "_c": temperature_c,
        "_l": lambda written: volume_l(written, ground.settings.gallon),
        "g": mass_g,
        "kg": lambda written: mass_g(written) / 1000,
    }
    unit = (
        key if key in ("g", "kg") else "_l" if key == "l" or key.endswith("_l") else "_c" if key.endswith("_c") else ""
    )
    measured = unit in readers and key not in NUMBERS
    if (measured or key in NUMBERS) and (bare := number_of(text)) is not None:
        return bare
    if measured and text.strip() and text.strip()[:1] in "0123456789-+.,½¼¾":
        return readers[unit](text)
    return text if key in WORDS else _plain(text)


def _plain(text: str) -> Any:
    try:
        found = json.loads(text, parse_constant=lambda name: name)
    except (ValueError, RecursionError):
        return text
    return found if isinstance(found, int | float | bool | list | dict) or found is None else text
