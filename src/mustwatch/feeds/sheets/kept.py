"""How a sheet is read, kept under a name, so that it need be told once. In this machine's state, outside the cellar."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from mustwatch.ledger.files import own_bytes, own_folder, write_whole

NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
KEYS = ("columns", "dates", "date_format", "units", "tags", "encoding", "separator", "sheets", "batch")


def kept(folder: Path, name: str) -> dict[str, Any]:
    """What was kept under a name. Raises ValueError naming those there are."""
    try:
        found = json.loads(own_bytes(_path(folder, name)))
        return {key: found[key] for key in KEYS if key in found}
    except FileNotFoundError:
        there = ", ".join(sorted(path.stem for path in (folder / "sheets").glob("*.json"))) or "none"
        raise ValueError(f"nothing is kept as {name!r}; there is: {there}") from None
    except (OSError, ValueError, TypeError) as why:
        raise ValueError(f"what was kept as {name!r} cannot be read ({why}); keep it again") from None


def keep(folder: Path, name: str, how: dict[str, Any]) -> None:
    """Keeps how a sheet is read under a name. Raises ValueError, OSError."""
    path = _path(folder, name)
    own_folder(path.parent)
    text = json.dumps({key: how[key] for key in KEYS if how.get(key)}, ensure_ascii=False, indent=1)
    write_whole(path, [text.encode("utf-8")])


def _path(folder: Path, name: str) -> Path:
    if not NAME.fullmatch(name):
        raise ValueError(f"name {name[:40]!r}: use small letters, digits and dashes, such as my-log")
    return folder / "sheets" / f"{name}.json"
