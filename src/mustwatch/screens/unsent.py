"""What was typed and not saved, kept between two starts in local state, never in the cellar."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from pathlib import Path

Fields = dict[str, str]
LONGEST = 2000


def unsent_path() -> Path:
    """Where it is kept on this machine."""
    from platformdirs import user_state_path

    return user_state_path("mustwatch") / "unsent.json"


def load(path: Path, cellar: Path) -> dict[str, Fields]:
    """tag -> field -> text, as left by an earlier round on this cellar. A damaged file gives nothing."""
    kept = _whole(path).get(str(cellar.absolute()), {})
    return {tag: _fields(own) for tag, own in kept.items() if isinstance(own, dict) and _fields(own)}


def keep(path: Path, cellar: Path, drafts: Mapping[str, Fields]) -> None:
    """Replaces what is kept for this cellar; whole or not at all, readable by its owner alone."""
    whole = _whole(path)
    own = {tag: fields for tag, fields in drafts.items() if any(fields.values())}
    key = str(cellar.absolute())
    if own == whole.get(key, {}):
        return
    if own:
        whole[key] = own
    else:
        whole.pop(key, None)
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    fresh = path.with_name(f"{path.name}.{os.getpid()}")
    handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as file:
        json.dump(whole, file)
    os.replace(fresh, path)


def _whole(path: Path) -> dict:
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return {key: own for key, own in found.items() if isinstance(own, dict)} if isinstance(found, dict) else {}


def _fields(own: Mapping) -> Fields:
    return {str(name): text[:LONGEST] for name, text in own.items() if isinstance(text, str) and text}
