"""What a cell says went in: `5 g DAP`, `2 campden tablets; 1 tsp nutrient`. Pure; nothing is guessed."""

from __future__ import annotations

import re
from typing import Any

from mustwatch.deeds.add import DEED
from mustwatch.entry.quantity import amount_of
from mustwatch.entry.substance import substance

_SEVERAL = re.compile(r"\s*;\s*|\s+\+\s+|,\s+|\s+and\s+")
LONGEST_NAME = 4  # words; what is longer is prose


def additions_of(text: str) -> list[dict[str, Any]]:
    """The keys of each addition a cell tells; empty where it is prose of no known thing.

    An amount that cannot be taken, such as tablets or spoons, is left out, and the words are kept as a note.
    """
    found = [_addition(part) for part in _SEVERAL.split(text.strip()) if part]
    return [keys for keys in found if keys is not None] if all(found) else _whole(text)


def _whole(text: str) -> list[dict[str, Any]]:
    keys = _addition(text.strip())
    return [keys] if keys else []


def _addition(part: str) -> dict[str, Any] | None:
    said = _split(part)
    keys = substance(said.get("what", part))
    try:
        quantity = amount_of(said["amount"], None) if said.get("amount") else {}
    except ValueError:
        return keys | {"note": part} if keys["category"] != "other" else None
    if keys["category"] == "other" and not quantity:
        return None
    return keys | quantity if len(keys["what"].split()) <= LONGEST_NAME else None


def _split(part: str) -> dict[str, str]:
    assert DEED.split is not None
    try:
        return DEED.split(part.split())
    except ValueError:
        return {}
