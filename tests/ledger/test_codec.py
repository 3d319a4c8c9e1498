"""One line: what it means, what is refused and with which words, and what survives unknown."""

from __future__ import annotations

import json
from datetime import UTC, datetime

import pytest
from sample_story import lines

from mustwatch.ledger.codec import Newer, Unreadable, encode, parse
from mustwatch.ledger.drafts import draft, stamped

AT = datetime(2026, 3, 1, 8, tzinfo=UTC)


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


def test_every_line_of_the_sample_comes_back_the_same() -> None:
    """Reading and writing agree on every kind in use."""
    for line in lines():
        body = line[: line.rindex(b',"crc"')] + b"}"
        assert encode(parse(line)) == body


def test_a_line_of_a_newer_format_says_which() -> None:
    """Also where its keys mean what they do not mean here: it is newer, not damaged."""
    for line in (
        b'{"v":7,"id":"a","at":"2026-03-01T08:00:00Z","kind":"noted"}',
        b'{"v":7,"id":"a","at":{"sol":9},"kind":["noted"]}',
        b'{"id":"a","kind":"dreamt","v":7}',
    ):
        with pytest.raises(Newer, match="format 7"):
            parse(line)


def test_a_line_without_a_version_is_of_the_first_and_written_with_it() -> None:
    """By hand, or by another program."""
    event = parse(b'{ "id": "a", "at": "2026-03-01T08:00:00Z", "kind": "noted", "note": "x" }')
    assert encode(event) == b'{"v":1,"id":"a","at":"2026-03-01T08:00:00Z","kind":"noted","note":"x"}'


@pytest.mark.parametrize("keys", [{"note": "\udcff"}, {"what": "\udcff"}, {"moon": {"\udcff": 1}}])
def test_text_that_is_no_unicode_cannot_be_written(keys: dict) -> None:
    """It could not be read back, in whatever key it stands."""
    with pytest.raises(ValueError, match="Unicode"):
        encode(draft("removed", AT, "fir", **{"what": "oak", **keys}))
