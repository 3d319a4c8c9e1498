"""One line of the ledger: its one parser and its one encoder. Checksums are in `crc.py`."""

import json
import math
from typing import Any

from pydantic_core import PydanticSerializationError, ValidationError, to_json

from mustwatch.ledger.events import FORMAT_VERSION, MODELS, Event, UnknownKind
from mustwatch.ledger.shape import serializer_of, validator_of

LAST_KEYS = {"note", "crc"}
# The first "kind" of a line is nearly always the event's own; where it is not, the model refuses the line.
NAMED = {name.encode(): model for name, model in MODELS.items()}


class Unreadable(ValueError):
    """A line that is no event; its text says why."""


class Newer(Unreadable):
    """A line in a format that is newer than this program's."""

    def __init__(self, version: int) -> None:
        super().__init__(f"written in format {version}, not understood here")
        self.version = version


def parse(line: bytes) -> Event:
    """The event of one line (its checksum is the store's business). Raises Unreadable with the reason, Newer.

    >>> parse(b'{"v":1,"id":"a","at":"2026-03-01T08:00:00Z","batch":"fir","kind":"swirled"}').kind
    'swirled'
    """
    at = line.find(b'"kind":"') + 8
    model = NAMED.get(line[at : line.find(b'"', at)])
    if model and b"NaN" not in line and b"Infinity" not in line:
        try:
            event = validator_of(model).validate_json(line)
        except ValidationError:
            return _parsed_slowly(line)
        if event.v <= FORMAT_VERSION:
            return event
    return _parsed_slowly(line)


def _parsed_slowly(line: bytes) -> Event:
    """As `parse`: what the whole object tells, where a nested "kind" may have come first."""
    keys = object_of(line)
    kind, version = keys.get("kind"), keys.get("v", 1)
    if isinstance(version, int) and version > FORMAT_VERSION:
        raise Newer(version)
    if not isinstance(kind, str):
        raise Unreadable("no kind of event is named")
    try:
        return MODELS.get(kind, UnknownKind).model_validate_json(line)
    except ValidationError as error:
        raise Unreadable(reason(error)) from None


def object_of(line: bytes) -> dict[str, Any]:
    """The JSON object of a line. Raises Unreadable, also for a key that stands twice and a number that is none."""
    if b"\0" in line:
        raise Unreadable("zero bytes, as a power cut leaves them")
    try:
        keys = json.loads(line.decode("utf-8"), object_pairs_hook=_once, parse_constant=_no_number, parse_float=_finite)
    except UnicodeDecodeError:
        raise Unreadable("not UTF-8") from None
    except RecursionError:
        raise Unreadable("nested too deeply") from None
    except ValueError as error:
        raise Unreadable(f"not JSON ({str(error)[:120]})") from None
    if not isinstance(keys, dict):
        raise Unreadable("not a JSON object")
    return keys


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    keys = dict(pairs)
    if len(keys) != len(pairs):
        raise ValueError("a key stands twice")
    return keys


def _no_number(name: str) -> float:
    raise ValueError(f"{name} is no number")


def _finite(text: str) -> float:
    if not math.isfinite(value := float(text)):
        raise ValueError(f"{text[:20]} is too large")
    return value


def reason(error: ValidationError) -> str:
    """The first fault of a failed validation, as one line: which key, what is wrong."""
    first = error.errors(include_url=False, include_context=False)[0]
    where = ".".join(str(part) for part in first["loc"])
    given = first.get("input")
    shown = f", got {str(given)[:40]!r}" if isinstance(given, str | int | float) else ""
    return f"{where or 'line'}: {first['msg'][0].lower()}{first['msg'][1:]}{shown}"


def encode(event: Event) -> bytes:
    """The event as one JSON object without line end and checksum, keys in the order of the format, the note last.

    Raises ValueError where its text is not valid Unicode.
    """
    if not event.model_fields_set.issuperset(("v", "kind")):
        event = event.model_copy(update={"v": event.v, "kind": event.kind})
    try:
        body: bytes = serializer_of(type(event)).to_json(
            event, by_alias=True, exclude_unset=True, exclude_none=True, exclude=LAST_KEYS
        )
        return body if event.note is None else b'%b,"note":%b}' % (body[:-1], to_json(event.note))
    except PydanticSerializationError:
        raise ValueError("the text holds a character that is not valid Unicode") from None
