"""Shapes: what they take and refuse is what pydantic's own models take and refuse."""

import copy
from datetime import UTC, datetime
from typing import Annotated, Any, Literal

import pytest
from pydantic import AwareDatetime, BaseModel, ConfigDict, Field
from pydantic_core import ValidationError

from mustwatch.ledger.codec import reason
from mustwatch.ledger.events import Moved, Swirled, Yeast
from mustwatch.ledger.shape import Key, Shape, Within, serializer_of, validator_of

AT = datetime(2026, 3, 1, 8, tzinfo=UTC)


class Jug(Shape):
    litres: Annotated[float, Within(gt=0, le=10)]
    marks: int = 0
    made_of: Annotated[Literal["glass", "clay"], Key("of")] = "glass"


class Shelf(Shape):
    since: datetime
    name: str = ""
    dry: bool | None = None
    jugs: tuple[Jug, ...] = ()
    beside: Jug | None = None
    said: dict[str, Any] = {}


class ModelJug(BaseModel):
    model_config = ConfigDict(frozen=True, extra="allow", allow_inf_nan=False)
    litres: Annotated[float, Field(gt=0, le=10)]
    marks: int = 0
    made_of: Literal["glass", "clay"] = Field(default="glass", alias="of")


class ModelShelf(BaseModel):
    model_config = ConfigDict(frozen=True, extra="allow", allow_inf_nan=False)
    since: AwareDatetime
    name: str = ""
    dry: bool | None = None
    jugs: tuple[ModelJug, ...] = ()
    beside: ModelJug | None = None
    said: dict[str, Any] = {}


SHELVES = (
    '{"since":"2026-03-01T08:00:00Z"}',
    '{"since":"2026-03-01T08:00:00"}',
    '{"since":"soon"}',
    '{"since":1772352000}',
    "{}",
    "[]",
    '{"since":"2026-03-01T08:00:00+02:00","name":7}',
    '{"since":"2026-03-01T08:00:00Z","dry":"yes","moon":{"full":[1,null]}}',
    '{"since":"2026-03-01T08:00:00Z","dry":"damp"}',
    '{"since":"2026-03-01T08:00:00Z","name":null}',
    '{"since":"2026-03-01T08:00:00Z","jugs":[{"litres":4.5,"of":"clay","lid":"cork"},{"litres":"1","marks":2.0}]}',
    '{"since":"2026-03-01T08:00:00Z","jugs":[{"litres":4.5,"of":"tin"}]}',
    '{"since":"2026-03-01T08:00:00Z","jugs":[{"litres":4.5,"made_of":"tin"}]}',
    '{"since":"2026-03-01T08:00:00Z","jugs":[{"litres":0}]}',
    '{"since":"2026-03-01T08:00:00Z","jugs":[{"litres":10}]}',
    '{"since":"2026-03-01T08:00:00Z","jugs":[{"litres":10.001}]}',
    '{"since":"2026-03-01T08:00:00Z","jugs":[{"litres":NaN}]}',
    '{"since":"2026-03-01T08:00:00Z","jugs":[{"litres":1e400}]}',
    '{"since":"2026-03-01T08:00:00Z","jugs":{"litres":1}}',
    '{"since":"2026-03-01T08:00:00Z","jugs":[{"litres":1,"marks":2.5}]}',
    '{"since":"2026-03-01T08:00:00Z","beside":{"litres":1},"said":{"a":{"b":[1.5,"c"]}}}',
    '{"since":"2026-03-01T08:00:00Z","beside":{},"said":[]}',
)


def _read(model: Any, text: str) -> tuple[str, Any]:
    """What became of a text: what was read, as a plain object, or the reason it was refused."""
    try:
        return "read", model.model_validate_json(text).model_dump(mode="json", by_alias=True, exclude_unset=True)
    except ValidationError as error:
        return "refused", reason(error)


@pytest.mark.parametrize("number", range(len(SHELVES)))
def test_a_shape_reads_and_refuses_as_a_model_of_the_same_keys_does(number: int) -> None:
    """The short way to the core must not be laxer, nor stricter, than pydantic's own front."""
    assert _read(Shelf, SHELVES[number]) == _read(ModelShelf, SHELVES[number])


def test_both_ends_come_up_among_the_texts_that_are_compared() -> None:
    """Texts that were all refused would compare nothing."""
    outcomes = [_read(Shelf, text)[0] for text in SHELVES]
    assert outcomes.count("read") >= 6 and outcomes.count("refused") >= 10


def test_a_shape_made_by_hand_is_checked_too() -> None:
    """Code that makes an event is held to the vocabulary as a line is."""
    assert Jug(litres="4.5").litres == 4.5
    with pytest.raises(ValidationError, match="less than or equal to 10"):
        Jug(litres=11)


def test_a_shape_cannot_be_changed_but_a_copy_can_differ() -> None:
    """What was read stays as it was read, whoever holds it."""
    jug = Jug(litres=4.5, lid="cork")
    with pytest.raises(AttributeError, match="frozen"):
        jug.litres = 5.0
    other = jug.model_copy(update={"marks": 3, "lid": "bung"})
    assert (jug.marks, jug.lid, other.marks, other.lid) == (0, "cork", 3, "bung")
    assert (jug.model_fields_set, other.model_fields_set) == ({"litres", "lid"}, {"litres", "lid", "marks"})
    assert jug != other and copy.copy(jug) == jug and hash(copy.copy(jug)) == hash(jug)


def test_an_unknown_key_is_an_attribute_and_a_missing_one_is_none_at_all() -> None:
    """Code asks for `typed` and `probe` without knowing the kind."""
    swirled = Swirled(id="a", at=AT, typed="twice")
    assert (swirled.typed, swirled.model_extra, getattr(swirled, "probe", None)) == ("twice", {"typed": "twice"}, None)
    assert "typed='twice'" in repr(swirled)


def test_two_shapes_of_the_same_values_are_the_same_only_within_one_kind() -> None:
    """Two lines of one id are held against each other by what they say."""
    assert Yeast() == Yeast(label="yeast") != Yeast(label="heather")
    assert Swirled(id="a", at=AT) != Moved(id="a", at=AT)


def test_what_no_line_can_hold_is_refused_where_it_is_written_down() -> None:
    """A slip in the vocabulary shows at its first use, and not as a line read wrongly."""
    with pytest.raises(TypeError, match="no line holds"):
        validator_of(type("Odd", (Shape,), {"__annotations__": {"held": set}}))


def test_what_reads_and_writes_a_shape_is_built_once() -> None:
    """It takes longer than reading a line."""
    assert validator_of(Jug) is validator_of(Jug) and serializer_of(Jug) is serializer_of(Jug)
