"""The vocabulary of the ledger: one class a kind, one JSON object a line.

Quantities are metric and as observed; what was typed is kept beside them in
`typed`. Corrections for temperature and instrument are never stored, they are
made when folding. Unknown keys are kept on the event, unknown kinds become
`UnknownKind`: a newer program's lines survive an older one.
"""

import json
import re
from collections.abc import Mapping
from datetime import datetime
from typing import Annotated, Any, ClassVar, Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError

FORMAT_VERSION = 1
TAG = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")

Closure = Literal[
    "airlock",
    "blow-off",
    "loose-cap",
    "cloth",
    "solid-bung",
    "tight-cap",
    "crown-cap",
    "cork",
    "swing-top",
    "keg",
]
VENTED_CLOSURES = frozenset({"airlock", "blow-off", "loose-cap", "cloth"})
Category = Literal[
    "honey", "sugar", "juice", "fruit", "water", "nutrient", "oak", "spice", "acid", "carbonate",
    "sulfite", "sorbate", "fining", "tannin", "yeast", "other",
]  # fmt: skip
BottleKind = Literal["still-wine", "beer", "sparkling", "swing-top", "pet", "other"]
YeastClassName = Literal["bread", "ale", "lager", "white-wine", "sparkling", "high-tolerance", "unknown"]

Celsius = Annotated[float, Field(ge=-40, le=130)]
Amount = Annotated[float, Field(ge=0, le=1e6)]
Positive = Annotated[float, Field(gt=0, le=1e6)]


class Unreadable(ValueError):
    """A line that is no event; its text says why."""


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="allow", allow_inf_nan=False)


class Vessel(_Part):
    kind: str = "unknown"
    capacity_l: Positive | None = None
    rating_bar: Amount | None = None


class Ingredient(_Part):
    what: str
    category: Category = "other"
    kg: Amount | None = None
    l: Amount | None = None  # noqa: E741  the format's own key
    sugar_pct: Annotated[float, Field(ge=0, le=100)] | None = None
    water_pct: Annotated[float, Field(ge=0, le=100)] | None = None


class Target(_Part):
    sg: float | None = None
    final_sg: float | None = None
    finish: Literal["dry", "sweet", "sparkling"] | None = None


class Yeast(_Part):
    label: str = "yeast"
    yeast_class: YeastClassName = Field(default="unknown", alias="class")
    tolerance_abv: Annotated[float, Field(ge=0, le=30)] | None = None
    low_c: Celsius | None = None
    high_c: Celsius | None = None


class Gravity(_Part):
    value: float
    scale: Literal["sg", "brix", "plato"] = "sg"
    instrument: str | None = None
    sample_c: Celsius | None = None


class Lot(_Part):
    size_ml: Positive
    count: Annotated[int, Field(ge=0, le=100000)]
    bottle: BottleKind = "other"
    closure: Closure | None = None
    rating_bar: Amount | None = None


class Priming(_Part):
    what: str
    g: Amount


class Event(BaseModel):
    """What every line has: `id` orders and names it, `at` is when it happened, `batch` whom it concerns."""

    model_config = ConfigDict(frozen=True, extra="allow", allow_inf_nan=False, populate_by_name=True)
    KIND: ClassVar[str] = ""

    v: int = FORMAT_VERSION
    id: str
    seq: int | None = None
    at: AwareDatetime
    batch: str | None = None
    kind: str
    note: str | None = None
    crc: str | None = None


class Mixed(Event):
    kind: Literal["mixed"] = "mixed"
    name: str = ""
    style: str | None = None
    volume_l: Positive | None = None
    vessel: Vessel = Vessel()
    ingredients: tuple[Ingredient, ...] = ()
    target: Target | None = None
    from_batch: str | None = None


class Pitched(Event):
    kind: Literal["pitched"] = "pitched"
    yeast: Yeast = Yeast()
    g: Amount | None = None
    must_c: Celsius | None = None


class Read(Event):
    kind: Literal["read"] = "read"
    gravity: Gravity | None = None
    must_c: Celsius | None = None
    ph: Annotated[float, Field(ge=0, le=14)] | None = None
    ta_g_l: Amount | None = None
    free_so2_mg_l: Amount | None = None
    air_c: Celsius | None = None


class Seen(Event):
    kind: Literal["seen"] = "seen"
    airlock: Literal["bubbling", "still", "dry", "foamed"] | None = None
    surface: Literal["clean", "foam", "ring", "rafts", "film", "fuzzy", "coloured"] | None = None
    clarity: Literal["murky", "hazy", "clear"] | None = None
    smell: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()


class Added(Event):
    kind: Literal["added"] = "added"
    what: str
    category: Category = "other"
    g: Amount | None = None
    l: Amount | None = None  # noqa: E741  the format's own key
    nitrogen_mg_per_g: Amount | None = None
    taste_by: AwareDatetime | None = None


class Removed(Event):
    kind: Literal["removed"] = "removed"
    what: str


class Swirled(Event):
    kind: Literal["swirled"] = "swirled"
    how: str | None = None


class Aerated(Event):
    kind: Literal["aerated"] = "aerated"
    how: str | None = None


class CapPushed(Event):
    kind: Literal["cap_pushed"] = "cap_pushed"
    how: str | None = None


class Cleaned(Event):
    kind: Literal["cleaned"] = "cleaned"
    how: str | None = None


class Closed(Event):
    kind: Literal["closed"] = "closed"
    closure: Closure
    liquid: str | None = None
    fit: str | None = None


class Racked(Event):
    kind: Literal["racked"] = "racked"
    vessel: Vessel = Vessel()
    volume_l: Positive | None = None
    lees_l: Amount | None = None
    headspace_l: Amount | None = None


class Moved(Event):
    kind: Literal["moved"] = "moved"
    place: str = ""
    light: Literal["dark", "lit"] | None = None
    air_c: Celsius | None = None


class Bottled(Event):
    kind: Literal["bottled"] = "bottled"
    lots: tuple[Lot, ...] = ()
    style: Literal["still", "sparkling"] | None = None
    priming: Priming | None = None


class Took(Event):
    kind: Literal["took"] = "took"
    count: Annotated[int, Field(ge=1, le=100000)] = 1
    why: Literal["drunk", "given", "tested", "broken"] = "drunk"
    burst: bool | None = None


class Tasted(Event):
    kind: Literal["tasted"] = "tasted"
    look: str | None = None
    nose: str | None = None
    palate: str | None = None
    balance: str | None = None
    score_of_10: Annotated[float, Field(ge=0, le=10)] | None = None
    again: bool | None = None


class Noted(Event):
    kind: Literal["noted"] = "noted"


class Hushed(Event):
    kind: Literal["hushed"] = "hushed"
    rule: str
    until: AwareDatetime
    why: str | None = None


class Amended(Event):
    kind: Literal["amended"] = "amended"
    target: str
    set: dict[str, Any] = {}


class Withdrew(Event):
    kind: Literal["withdrew"] = "withdrew"
    target: str
    why: str | None = None


class Ended(Event):
    kind: Literal["ended"] = "ended"
    outcome: Literal["drunk", "given", "dumped", "vinegar"]


class Instrument(Event):
    """An instrument of the cellar: `value * factor + offset` is what it should have read."""

    kind: Literal["instrument"] = "instrument"
    name: str
    what: Literal["hydrometer", "refractometer", "thermometer", "pH meter"] | None = None
    calibration_c: Celsius | None = None
    offset: float = 0.0
    division: float | None = None
    factor: float = 1.0


class UnknownKind(Event):
    """A kind this program does not know: kept, shown as it is, folded into nothing."""


MODELS: dict[str, type[Event]] = {
    model.model_fields["kind"].default: model
    for model in (
        Mixed, Pitched, Read, Seen, Added, Removed, Swirled, Aerated, CapPushed, Cleaned, Closed, Racked, Moved,
        Bottled, Took, Tasted, Noted, Hushed, Amended, Withdrew, Ended, Instrument,
    )
}  # fmt: skip
KINDS = tuple(MODELS)
_KIND = re.compile(rb'"kind"\s*:\s*"([^"\\]{1,60})"')


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


def reason(error: ValidationError) -> str:
    """The first fault of a failed validation, as one line: which key, what is wrong."""
    first = error.errors(include_url=False, include_context=False)[0]
    where = ".".join(str(part) for part in first["loc"])
    given = first.get("input")
    shown = f", got {str(given)[:40]!r}" if isinstance(given, str | int | float) else ""
    return f"{where or 'line'}: {first['msg'][0].lower()}{first['msg'][1:]}{shown}"


def draft(kind: str, at: datetime, batch: str | None = None, **keys: Any) -> Event:
    """A new event, checked but not yet stamped with id and place in the ledger.

    Raises ValueError with one line that names the key and what would be right.
    """
    if kind not in MODELS:
        raise ValueError(f"kind of event {kind!r} is not known; one of: {', '.join(KINDS)}")
    if batch is not None and not TAG.fullmatch(batch):
        raise ValueError(f"tag {batch!r}: use small letters, digits and dashes, such as heather-2")
    given = {name: value for name, value in keys.items() if value not in (None, [], ())}
    try:
        return MODELS[kind].model_validate(
            {"v": FORMAT_VERSION, "id": "", "at": at, "batch": batch, "kind": kind, **given}
        )
    except ValidationError as error:
        raise ValueError(reason(error)) from None


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
        raise ValueError(reason(error)) from None


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
