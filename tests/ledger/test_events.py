"""The vocabulary: what a line means, what is refused and with which words, and what survives unknown."""

from __future__ import annotations

import json
from datetime import UTC, datetime

import jsonschema
import pytest
from sample_story import lines

from mustwatch.ledger.events import KINDS, Unreadable, amended, draft, encode, parse, schema, stamped

AT = datetime(2026, 3, 1, 8, tzinfo=UTC)
DESIGNED_KINDS = {
    "mixed", "pitched", "read", "seen", "added", "removed", "swirled", "aerated", "cap_pushed", "cleaned", "closed",
    "racked", "moved", "bottled", "took", "tasted", "noted", "hushed", "amended", "withdrew", "ended", "instrument",
}  # fmt: skip


def test_the_kinds_are_those_of_the_format() -> None:
    """Others read this ledger: a kind may be added, never renamed."""
    assert sorted(KINDS) == sorted(DESIGNED_KINDS)


def test_keys_come_in_the_order_of_the_format_and_the_note_last() -> None:
    """So that a line can be read by eye and compared by diff."""
    event = stamped(draft("read", AT, "fir", gravity={"value": 1.05}, note="n", typed="1050"), "id-1", 4)
    assert list(json.loads(encode(event))) == ["v", "id", "seq", "at", "batch", "kind", "gravity", "typed", "note"]


def test_nothing_that_was_not_given_is_written() -> None:
    """A default on disk would look like something somebody had seen."""
    keys = json.loads(encode(stamped(draft("racked", AT, "fir"), "x", 1)))
    assert set(keys) == {"v", "id", "seq", "at", "batch", "kind"}


def test_unknown_keys_and_kinds_survive() -> None:
    """A newer program's lines must pass through an older one unharmed."""
    line = b'{"v":1,"id":"z","at":"2026-03-01T08:00:00Z","batch":"fir","kind":"zapped","deep":{"a":[1,{"b":null}]}}'
    event = parse(line)
    assert json.loads(encode(event)) == json.loads(line)
    known = parse(b'{"v":1,"id":"z","at":"2026-03-01T08:00:00Z","batch":"fir","kind":"swirled","spin":[3]}')
    assert json.loads(encode(known))["spin"] == [3]


def test_a_kind_named_inside_another_object_does_not_confuse() -> None:
    """Foreign writers order their keys as they like."""
    line = b'{"vessel":{"kind":"swirled"},"kind":"mixed","id":"z","at":"2026-03-01T08:00:00Z","batch":"fir"}'
    assert parse(line).kind == "mixed"


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (b"[1]", "not a JSON object"),
        (b"12", "not a JSON object"),
        (b'{"v":1', "not JSON"),
        (b'{"kind":"read","id":"a","at":"soon"}', "at:"),
        (b'{"kind":"read","id":"a"}', "at:"),
        (b'{"kind":"closed","id":"a","at":"2026-03-01T08:00:00Z","closure":"cling film"}', "airlock"),
        (b'{"kind":"read","id":"a","at":"2026-03-01T08:00:00Z","ph":NaN}', "NaN"),
        (b'{"id":"a","at":"2026-03-01T08:00:00Z"}', "no kind"),
        (b'{"kind":"noted","id":"a","at":"2026-03-01T08:00:00"}', "timezone"),
        (b"\xff\xfe", "UTF-8"),
        (b"[" * 100_000, "deep"),
    ],
)
def test_a_line_that_is_no_event_says_why(line: bytes, words: str) -> None:
    """The reason is shown beside the line: it is all a user has to mend it by."""
    with pytest.raises(Unreadable, match=words):
        parse(line)


@pytest.mark.parametrize(
    ("kind", "tag", "keys", "words"),
    [
        ("stirred", "fir", {}, "not known"),
        ("swirled", "Fir Tree", {}, "small letters"),
        ("swirled", "../etc", {}, "small letters"),
        ("closed", "fir", {"closure": "bung"}, "solid-bung"),
        ("read", "fir", {"ph": 40}, "ph"),
        ("took", "fir", {"count": 0}, "count"),
    ],
)
def test_a_draft_with_a_fault_is_refused_in_one_line(kind: str, tag: str, keys: dict, words: str) -> None:
    """Nothing wrong may reach the disk, and the user is told what would be right."""
    with pytest.raises(ValueError, match=words) as refusal:
        draft(kind, AT, tag, **keys)
    assert "\n" not in str(refusal.value)


def test_a_correction_changes_one_path_and_keeps_the_rest() -> None:
    """Corrections name what was wrong; everything else stays as observed."""
    event = stamped(draft("read", AT, "fir", gravity={"value": 1.5, "sample_c": 21}, note="n"), "x", 1)
    mended = amended(event, {"gravity.value": 1.05})
    assert (mended.gravity.value, mended.gravity.sample_c, mended.note) == (1.05, 21, "n")
    assert amended(event, {"note": None}).note is None
    for path in ("id", "kind", "seq", "gravity.value.deep"):
        with pytest.raises(ValueError):
            amended(event, {path: 1})


def test_the_sample_cellar_fits_the_printed_schema() -> None:
    """The schema is what outsiders build on: held against an independent validator."""
    validator = jsonschema.Draft202012Validator(schema())
    for line in lines():
        errors = list(validator.iter_errors(json.loads(line)))
        assert not errors, errors[:1]
    assert list(validator.iter_errors({"v": 1, "id": "a", "at": "x", "kind": "closed", "closure": "bung"}))


def test_every_line_of_the_sample_comes_back_the_same() -> None:
    """Reading and writing agree on every kind in use."""
    for line in lines():
        body = line[: line.rindex(b',"crc"')] + b"}"
        assert encode(parse(line)) == body
