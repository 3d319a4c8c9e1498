"""New events and corrected ones, checked before anything is written; the schema of all."""

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from pydantic_core import ValidationError

from mustwatch.ledger.codec import encode, reason
from mustwatch.ledger.events import FORMAT_VERSION, KINDS, MODELS, TAG, Event


class Unfit(ValueError):
    """A value that the vocabulary refuses; its text is one line. path: its key, dotted, such as `yeast.label`."""

    def __init__(self, error: ValidationError) -> None:
        super().__init__(reason(error))
        self.path = ".".join(str(part) for part in error.errors(include_url=False)[0]["loc"])


def draft(kind: str, at: datetime, batch: str | None = None, **keys: Any) -> Event:
    """A new event, checked but not yet stamped with id and place in the ledger.

    Raises Unfit with one line that names the key and what would be right; ValueError for a faulty tag or kind.
    """
    if kind not in MODELS:
        raise ValueError(f"kind of event {kind!r} is not known; one of: {', '.join(KINDS)}")
    if batch is not None and not TAG.fullmatch(batch):
        raise ValueError(f"tag {batch!r}: use small letters, digits and dashes, such as heather-2")
    given = {name: value for name, value in keys.items() if value not in (None, [], ())}
    told = {"v": FORMAT_VERSION, "id": "", "at": at, "batch": batch, "kind": kind, **given}
    try:
        return MODELS[kind].model_validate(told)
    except ValidationError as error:
        raise Unfit(error) from None


def stamped(event: Event, event_id: str, seq: int | None) -> Event:
    """The same event with its id and its number within the writing device."""
    return event.model_copy(update={"id": event_id, "seq": seq})


def amended(event: Event, changes: Mapping[str, Any]) -> Event:
    """The event with changed values: dotted paths such as `gravity.value`; None takes a key away.

    Raises ValueError naming the path that does not fit; id, seq and kind cannot be changed.
    """
    keys = json.loads(encode(event)) | {"crc": event.crc}
    for path, value in changes.items():
        first, *rest = path.split(".")
        if first in {"v", "id", "seq", "kind", "crc"}:
            raise ValueError(f"{first} cannot be changed")
        _put(keys, [first, *rest], value)
    try:
        return type(event).model_validate_json(json.dumps(keys))
    except ValidationError as error:
        raise Unfit(error) from None


def _put(keys: Any, path: list[str], value: Any) -> None:
    head: Any = int(path[0]) if isinstance(keys, list) and path[0].isdigit() else path[0]
    try:
        if len(path) > 1:
            if isinstance(keys, dict):
                keys.setdefault(head, {})
            _put(keys[head], path[1:], value)
        elif value is None and isinstance(keys, dict):
            keys.pop(head, None)
        else:
            keys[head] = value
    except (TypeError, IndexError, KeyError):
        raise ValueError(f"{'.'.join(path)} is no place in this event") from None


def schema() -> dict[str, Any]:
    """The JSON Schema of the whole vocabulary: one alternative a kind, unknown keys allowed."""
    from pydantic import TypeAdapter

    parts, whole = TypeAdapter.json_schemas(
        [(kind, "validation", TypeAdapter(model)) for kind, model in MODELS.items()], by_alias=True
    )
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "mustwatch ledger line",
        "oneOf": [parts[(kind, "validation")] for kind in MODELS],
        "$defs": whole["$defs"],
    }
