"""What a calculation of the bench is: inputs with their kinds, the work, and its result."""

import dataclasses
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from .kinds import KINDS, key_of
from .purposes import PURPOSES

LONGEST_INPUT = 300
HOUSE = " house"  # beside the inputs by name; no input can be called that


@dataclass(frozen=True, slots=True)
class House:
    """What a cellar has settled: a bare gallon (us or imperial), its hydrometer in C, its own ingredients."""

    gallon: str | None = None
    hydrometer_c: float | None = None
    ingredients: Mapping[str, Mapping[str, Any]] = dataclasses.field(default_factory=dict)


NOTHING_SETTLED = House()


def house_of(settings: Any) -> House:
    """What of a cellar's settings the bench goes by.

    Range: settings with gallon, hydrometer_c and library, or None for nothing settled.
    Errors: none. Source: the cellar.

    >>> house_of(None).gallon
    """
    library = getattr(settings, "library", None) or {}
    own = library.get("ingredients", {})
    gallon, hydrometer_c = (getattr(settings, name, None) for name in ("gallon", "hydrometer_c"))
    return House(gallon, hydrometer_c, own if isinstance(own, Mapping) else {})


@dataclass(frozen=True, slots=True)
class Field:
    """One input: its name on the command line, label on the form, kind of quantity, and default as typed.

    Required unless it has a default or is optional. choices belong to the kind "choice"; sample shows
    how it is written, where the kind's own example would not do.
    """

    name: str
    kind: str
    label: str
    help: str
    default: str = ""
    optional: bool = False
    choices: tuple[str, ...] = ()
    unit: str = ""
    sample: str = ""

    @property
    def required(self) -> bool:
        return not (self.default or self.optional)

    @property
    def hint(self) -> str:
        """How it is written, such as `5 US gal`."""
        return self.default or self.sample or KINDS[self.kind].example

    @property
    def quoted_hint(self) -> str:
        """The hint as it must be typed in a shell."""
        return f'"{self.hint}"' if " " in self.hint else self.hint

    @property
    def key(self) -> str:
        """The name of its value in JSON, with the metric unit, such as volume_l."""
        return key_of(self.name, self.kind, self.unit)


@dataclass(frozen=True, slots=True)
class Answer:
    """What the work gives: values for JSON, metric and in full; lines for the eye; cautions.

    method stands in for that of the calculation where the answer came another way.
    """

    values: Mapping[str, Any]
    lines: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...] = ()
    method: str = ""


@dataclass(frozen=True, slots=True)
class Result:
    """A finished calculation, as printed or shown."""

    calc: str
    inputs: Mapping[str, Any]
    result: Mapping[str, Any]
    method: str
    source: str
    range: str
    cautions: tuple[str, ...]
    lines: tuple[tuple[str, str], ...]

    def as_document(self) -> dict[str, Any]:
        """The result as a mapping for JSON: metric, in full, its keys those of the contract.

        Range: any. Errors: none. Source: the command-line contract.
        """
        return {
            "calc": self.calc,
            "inputs": dict(self.inputs),
            "result": dict(self.result),
            "method": self.method,
            "source": self.source,
            "range": self.range,
            "cautions": list(self.cautions),
        }


@dataclass(frozen=True, slots=True)
class Calculation:
    """One calculation of the bench: its inputs, its work, and how far to trust it."""

    name: str
    fields: tuple[Field, ...]
    work: Callable[[Mapping[str, Any]], Answer]
    method: str
    source: str
    range: str
    example: str

    @property
    def purpose(self) -> str:
        """What it is for, in one line."""
        return PURPOSES[self.name]

    def field(self, name: str) -> Field:
        """The input of that name; ValueError naming those there are."""
        for each in self.fields:
            if each.name == name:
                return each
        raise ValueError(f"{self.name} has no input {name!r}; it has {', '.join(each.name for each in self.fields)}")

    def answer(self, typed: Mapping[str, str], house: House = NOTHING_SETTLED) -> Result:
        """The result for inputs as the user typed them; empty text counts as not given.

        house: what the cellar has settled about units, glass and ingredients.
        Errors: ValueError, one line: an unknown name, a missing input, what cannot be read, or what
        lies outside the range of the formula.
        """
        for name in typed:
            self.field(name)
        values = {each.name: self._value(each, typed.get(each.name, "").strip(), house.gallon) for each in self.fields}
        values[HOUSE] = house
        answer = self.work(values)
        inputs = {each.key: values[each.name] for each in self.fields if values[each.name] is not None}
        return Result(
            self.name,
            {key: _plain(value) for key, value in inputs.items()},
            answer.values,
            answer.method or self.method,
            self.source,
            self.range,
            answer.cautions,
            answer.lines,
        )

    def _value(self, field: Field, text: str, gallon: str | None) -> Any:
        text = text or field.default
        if not text:
            if field.required:
                raise ValueError(f"{field.name} is missing: {field.help}, such as {field.name}={field.quoted_hint}")
            return None
        if len(text) > LONGEST_INPUT:
            raise ValueError(f"{field.name}: at most {LONGEST_INPUT} characters, got {len(text)}")
        try:
            unit = gallon or "" if field.kind in ("volume", "room") else field.unit
            return KINDS[field.kind].read(text, field.choices, unit)
        except ValueError as error:
            raise ValueError(f"{field.name}: {error}") from None


def _plain(value: Any) -> Any:
    """A value that JSON can hold."""
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    return value
