"""Frozen classes that pydantic's core validates and writes, told by their annotations.

Only the core is loaded. Building the same classes with pydantic's own front, and loading that front, took more than
a third of what `check` takes: a command must answer at once on a slow machine. What a line may hold, how it is
refused and how it is written is the core's business either way.
"""

from collections.abc import Iterator
from datetime import datetime
from types import NoneType, UnionType
from typing import Annotated, Any, ClassVar, Literal, NamedTuple, Self, Union, dataclass_transform, get_args, get_origin

from pydantic_core import SchemaSerializer, SchemaValidator, core_schema

CONFIG = core_schema.CoreConfig(extra_fields_behavior="allow", allow_inf_nan=False)
REQUIRED: Any = object()
PLAIN = {str: "str", int: "int", float: "float", bool: "bool", Any: "any"}


class Within(NamedTuple):
    """The bounds of a number, each where there is one: at least, above, at most."""

    ge: float | None = None
    gt: float | None = None
    le: float | None = None


class Key(NamedTuple):
    """The key on the line, where it is another than the attribute's name."""

    alias: str


class Slot(NamedTuple):
    """One attribute: what it holds, what counts where it was not given, and its other name on the line."""

    holds: Any
    default: Any = REQUIRED
    alias: str | None = None

    def is_required(self) -> bool:
        """Whether a line without it is no such thing."""
        return self.default is REQUIRED


@dataclass_transform(kw_only_default=True, frozen_default=True)
class Shape:
    """What stands in an object on a line: attributes as annotated, keys nobody knows kept beside them.

    Made from keyword arguments or by `model_validate`; raises pydantic_core's ValidationError, which is a ValueError.
    """

    # The core keeps its own in these four; the names are its contract.
    __slots__ = ("__dict__", "__pydantic_extra__", "__pydantic_fields_set__", "__pydantic_private__")
    __pydantic_extra__: dict[str, Any]
    __pydantic_fields_set__: set[str]
    model_config: ClassVar[dict[str, Any]] = {"extra": "allow"}
    model_fields: ClassVar[dict[str, Slot]] = {}

    def __init_subclass__(cls) -> None:
        own = {name: _slot(holds, cls.__dict__.get(name, REQUIRED)) for name, holds in _annotated(cls)}
        cls.model_fields = cls.model_fields | own

    def __init__(self, **keys: Any) -> None:
        validator_of(type(self)).validate_python(keys, self_instance=self)

    @classmethod
    def model_validate(cls, keys: Any) -> Self:
        """The one of these keys. Raises ValidationError."""
        made: Self = validator_of(cls).validate_python(keys)
        return made

    @classmethod
    def model_validate_json(cls, text: str | bytes) -> Self:
        """The one of this JSON object. Raises ValidationError."""
        made: Self = validator_of(cls).validate_json(text)
        return made

    def model_dump(self, **more: Any) -> dict[str, Any]:
        """Its attributes and unknown keys; what may be asked for is what SchemaSerializer.to_python takes."""
        dumped: dict[str, Any] = serializer_of(type(self)).to_python(self, **more)
        return dumped

    def model_copy(self, *, update: dict[str, Any] | None = None) -> Self:
        """A copy with these attributes set, unchecked."""
        copy = self.__copy__()
        for name, value in (update or {}).items():
            (copy.__dict__ if name in self.model_fields else copy.__pydantic_extra__)[name] = value
        copy.__pydantic_fields_set__.update(update or ())
        return copy

    @property
    def model_fields_set(self) -> set[str]:
        """The attributes that were given, and have not merely their default."""
        return self.__pydantic_fields_set__

    @property
    def model_extra(self) -> dict[str, Any]:
        """The keys nobody knows, as they stood."""
        return self.__pydantic_extra__

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: Any) -> core_schema.CoreSchema:
        """The whole of pydantic asks for this; it writes the JSON Schema."""
        return _core(cls)

    def __copy__(self) -> Self:
        copy = object.__new__(type(self))
        object.__setattr__(copy, "__dict__", self.__dict__.copy())
        object.__setattr__(copy, "__pydantic_extra__", self.__pydantic_extra__.copy())
        object.__setattr__(copy, "__pydantic_fields_set__", self.__pydantic_fields_set__.copy())
        object.__setattr__(copy, "__pydantic_private__", None)
        return copy

    def __deepcopy__(self, memo: Any) -> Self:
        return self

    def __getattr__(self, name: str) -> Any:
        if not name.startswith("__") and name in self.__pydantic_extra__:
            return self.__pydantic_extra__[name]
        raise AttributeError(f"{type(self).__name__} has no {name}")

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError(f"{type(self).__name__} is frozen; {name} cannot be set")

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        return self.__dict__ == other.__dict__ and self.__pydantic_extra__ == other.__pydantic_extra__

    def __hash__(self) -> int:
        return hash((type(self), *self.__dict__.values()))

    def __repr__(self) -> str:
        keys = self.__dict__ | self.__pydantic_extra__
        return f"{type(self).__name__}({', '.join(f'{name}={value!r}' for name, value in keys.items())})"


VALIDATORS: dict[type[Shape], SchemaValidator] = {}
SERIALIZERS: dict[type[Shape], SchemaSerializer] = {}


def _annotated(cls: type[Shape]) -> Iterator[tuple[str, Any]]:
    for name, holds in cls.__dict__.get("__annotations__", {}).items():
        if get_origin(holds) is not ClassVar and not name.startswith("__"):
            yield name, holds


def _slot(holds: Any, default: Any) -> Slot:
    keys = [part for part in getattr(holds, "__metadata__", ()) if isinstance(part, Key)]
    return Slot(holds, default, keys[0].alias if keys else None)


def validator_of(shape: type[Shape]) -> SchemaValidator:
    """What reads a shape, built when it is first asked for."""
    if shape not in VALIDATORS:
        VALIDATORS[shape] = SchemaValidator(_core(shape), CONFIG)
    return VALIDATORS[shape]


def serializer_of(shape: type[Shape]) -> SchemaSerializer:
    """What writes a shape, built when it is first asked for."""
    if shape not in SERIALIZERS:
        SERIALIZERS[shape] = SchemaSerializer(_core(shape), CONFIG)
    return SERIALIZERS[shape]


def _core(shape: type[Shape]) -> core_schema.CoreSchema:
    fields = {name: _field(slot) for name, slot in shape.model_fields.items()}
    inner = core_schema.model_fields_schema(fields, model_name=shape.__name__)
    return core_schema.model_schema(shape, inner, config=CONFIG, ref=shape.__qualname__)


def _field(slot: Slot) -> core_schema.ModelField:
    held = _held(slot.holds)
    if not slot.is_required():
        held = core_schema.with_default_schema(held, default=slot.default)
    return core_schema.model_field(held, validation_alias=slot.alias, serialization_alias=slot.alias)


def _held(holds: Any) -> Any:
    """The core's schema of what an annotation says. Raises TypeError for one that no line needs."""
    origin, parts = get_origin(holds), get_args(holds)
    if holds in PLAIN:
        return {"type": PLAIN[holds]}
    if holds is datetime:
        return core_schema.datetime_schema(tz_constraint="aware")
    if origin is Annotated:
        return _held(parts[0]) | _bounds(parts[1:])
    if origin is Literal:
        return core_schema.literal_schema(list(parts))
    if origin in (Union, UnionType) and len(parts) == 2 and parts[1] is NoneType:
        return core_schema.nullable_schema(_held(parts[0]))
    if origin is tuple and parts[1:] == (...,):
        return core_schema.tuple_schema([_held(parts[0])], variadic_item_index=0)
    if origin is dict:
        return core_schema.dict_schema(_held(parts[0]), _held(parts[1]))
    if isinstance(holds, type) and issubclass(holds, Shape):
        return _core(holds)
    raise TypeError(f"no line holds a {holds}")


def _bounds(said: tuple[Any, ...]) -> dict[str, float]:
    return {
        name: bound
        for part in said
        if isinstance(part, Within)
        for name, bound in part._asdict().items()
        if bound is not None
    }
