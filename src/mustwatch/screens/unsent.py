"""What was typed and not saved, kept between two starts in local state, never in the cellar."""

import itertools
import json
import os
from collections.abc import Mapping
from pathlib import Path

from mustwatch.ledger.files import own_folder

Fields = dict[str, str]
LONGEST = 2000
COUNT = itertools.count()


class Unsent:
    """What is typed for one cellar. drafts: tag -> field -> text, as left by an earlier round; kept in `path`.

    A damaged file gives nothing.
    """

    def __init__(self, cellar: Path, path: Path | None = None) -> None:
        self._path = path or _usual_path()
        self._key = str(cellar.absolute())
        kept = _whole(self._path).get(self._key, {})
        self.drafts = {tag: _fields(own) for tag, own in kept.items() if isinstance(own, dict) and _fields(own)}

    def keep(self) -> str:
        """Keeps the drafts for the next start, whole or not at all, readable by their owner alone.

        Answers with why they could not be kept, or with nothing: a full disk must not stop the round.
        """
        try:
            self._keep()
        except OSError as error:
            return f"what is typed could not be kept for the next start: {error.strerror}"
        return ""

    def _keep(self) -> None:
        whole = _whole(self._path)
        own = {tag: fields for tag, fields in self.drafts.items() if any(fields.values())}
        if own == whole.pop(self._key, {}):
            return
        if own:
            whole[self._key] = own
        own_folder(self._path.parent)
        # A signal that ends the round may come in the middle of this and do it once more.
        fresh = self._path.with_name(f"{self._path.name}.{os.getpid()}.{next(COUNT)}")
        handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as file:
            json.dump(whole, file)
        os.replace(fresh, self._path)


def _usual_path() -> Path:
    from mustwatch.ledger.places import state_folder

    return state_folder() / "unsent.json"


def _whole(path: Path) -> dict:
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return {key: own for key, own in found.items() if isinstance(own, dict)} if isinstance(found, dict) else {}


def _fields(own: Mapping) -> Fields:
    return {str(name): text[:LONGEST] for name, text in own.items() if isinstance(text, str) and text}
