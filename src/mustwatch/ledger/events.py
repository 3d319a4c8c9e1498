"""Lines and events: reading a line, drafting an event, correcting one, writing one.

The vocabulary itself stands in `kinds.py`; its names are at home here too.
"""

import json
import re
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from pydantic import ValidationError

from mustwatch.ledger.kinds import (
    FORMAT_VERSION,
    KINDS,
    MODELS,
    VENTED_CLOSURES,
    Added,
    Aerated,
    Amended,
    Amount,
    Bottled,
    BottleKind,
    CapPushed,
    Category,
    Celsius,
    Cleaned,
    Closed,
    Closure,
    Ended,
    Event,
    Gravity,
    Hushed,
    Ingredient,
    Instrument,
    Lot,
    Mixed,
    Moved,
    Noted,
    Pitched,
    Positive,
    Priming,
    Racked,
    Read,
    Removed,
    Seen,
    Swirled,
    Target,
    Tasted,
    Took,
    UnknownKind,
    Vessel,
    Withdrew,
    Yeast,
    YeastClassName,
)

__all__ = [
    "Added",
    "Aerated",
    "Amended",
    "Amount",
    "BottleKind",
    "Bottled",
    "CapPushed",
    "Category",
    "Celsius",
    "Cleaned",
    "Closed",
    "Closure",
    "Ended",
    "Event",
    "FORMAT_VERSION",
    "Gravity",
    "Hushed",
    "Ingredient",
    "Instrument",
    "KINDS",
    "Lot",
    "MODELS",
    "Mixed",
    "Moved",
    "Noted",
    "Pitched",
    "Positive",
    "Priming",
    "Racked",
    "Read",
    "Removed",
    "Seen",
    "Swirled",
    "TAG",
    "Target",
    "Tasted",
    "Took",
    "Unfit",
    "UnknownKind",
    "Unreadable",
    "VENTED_CLOSURES",
    "Vessel",
    "Withdrew",
    "Yeast",
    "YeastClassName",
    "amended",
    "draft",
    "encode",
    "parse",
    "reason",
    "schema",
    "stamped",
]

TAG = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
_KIND = re.compile(rb'"kind"\s*:\s*"([^"\\]{1,60})"')


class Unreadable(ValueError):
    """A line that is no event; its text says why."""


def parse(line: bytes) -> Event:
    """The event of one line (its checksum is the store's business). Raises Unreadable with the reason.

    >>> parse(b'{"v":1,"id":"a","at":"2026-03-01T08:00:00Z","batch":"fir","kind":"swirled"}').kind
    'swirled'
    """
    found = _KIND.search(line)
    model = MODELS.get(found[1].decode("utf-8", "replace")) if found else None
    if model is not None and b"NaN" not in line and b"Infinity" not in line:
        try:
            return model.__pydantic_validator__.validate_json(line)
        except ValidationError as error:
            # A nested "kind" may have come first: only the whole object can tell.
            return _parse_slowly(line, error)
    return _parse_slowly(line, None)


def _parse_slowly(line: bytes, error: ValidationError | None) -> Event:
    keys = _object(line)
    kind = keys.get("kind")
    if not isinstance(kind, str):
        raise Unreadable("no kind of event is named")
    try:
        return MODELS.get(kind, UnknownKind).model_validate_json(line)
    except ValidationError as again:
        raise Unreadable(reason(again)) from None


def _object(line: bytes) -> dict[str, Any]:
    try:
        keys = json.loads(line.decode("utf-8"), parse_constant=_refuse_constant)
    except UnicodeDecodeError:
        raise Unreadable("not UTF-8") from None
    except RecursionError:
        raise Unreadable("nested too deeply") from None
    except ValueError as error:
        raise Unreadable(f"not JSON ({error})") from None
    if not isinstance(keys, dict):
        raise Unreadable("not a JSON object")
    return keys


def _refuse_constant(name: str) -> float:
    raise ValueError(f"{name} is no number")


class Unfit(ValueError):
    """A value that the vocabulary refuses; its text is one line. path: its key, dotted, such as `yeast.label`."""

    def __init__(self, error: ValidationError) -> None:
        super().__init__(reason(error))
        self.path = ".".join(str(part) for part in error.errors(include_url=False)[0]["loc"])


def reason(error: ValidationError) -> str:
    """The first fault of a failed validation, as one line: which key, what is wrong."""
    first = error.errors(include_url=False, include_context=False)[0]
    where = ".".join(str(part) for part in first["loc"])
    given = first.get("input")
    shown = f", got {str(given)[:40]!r}" if isinstance(given, str | int | float) else ""
    return f"{where or 'line'}: {first['msg'][0].lower()}{first['msg'][1:]}{shown}"


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
    keys = _dump(event)
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


def _dump(event: Event) -> dict[str, Any]:
    return event.model_dump(mode="json", by_alias=True, exclude_unset=True, exclude_none=True)


def encode(event: Event) -> bytes:
    """The event as one JSON object without line end and checksum; keys in the order of the format."""
    keys = _dump(event)
    first = ("v", "id", "seq", "at", "batch", "kind")
    head = {"v": event.v} | {name: keys[name] for name in first if name in keys} | {"kind": event.kind}
    own = {name: value for name, value in keys.items() if name not in (*first, "note", "crc")}
    tail = {"note": keys["note"]} if "note" in keys else {}
    return json.dumps(head | own | tail, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode(
        "utf-8", "backslashreplace"
    )


def schema() -> dict[str, Any]:
    """The JSON Schema of the whole vocabulary: one alternative a kind, unknown keys allowed."""
    from pydantic.json_schema import models_json_schema

    parts, whole = models_json_schema([(model, "validation") for model in MODELS.values()], by_alias=True)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "mustwatch ledger line",
        "oneOf": [parts[(model, "validation")] for model in MODELS.values()],
        "$defs": whole["$defs"],
    }
