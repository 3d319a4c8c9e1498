"""JSON lines of others."""

import pytest

from mustwatch.feeds.incoming import from_json_lines
from mustwatch.ledger.crc import sealed

LINE = b'{"v":1,"id":"a1","seq":4,"at":"2026-05-01T18:00:00Z","batch":"fir","kind":"read","ph":3.5}'


def why(line: bytes) -> str:
    found = from_json_lines(line)
    assert found.events == []
    return found.bad[0].why


def test_lines_with_and_without_id_and_checksum_are_taken():
    """What is missing is filled in when saving."""
    bare = b'{"at":"2026-05-01T18:00:00+02:00","kind":"noted","note":"x"}'
    found = from_json_lines(b"\xef\xbb\xbf" + LINE + b"\r\n\n" + sealed(LINE) + b"\n" + bare)
    assert found.bad == [] and [line for line, _ in found.events] == [1, 3, 4]
    assert [event.id for _, event in found.events] == ["a1", "a1", ""]


def test_unknown_kinds_and_keys_are_kept():
    """The ledger of a newer program moves whole."""
    found = from_json_lines(LINE.replace(b'"read"', b'"dreamt"').replace(b"}", b',"moon":{"full":true}}'))
    event = found.events[0][1]
    assert event.kind == "dreamt" and event.model_extra["moon"] == {"full": True}


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        (sealed(LINE).replace(b"3.5", b"3.6"), "checksum"),
        (LINE.replace(b'"v":1', b'"v":2'), "format 2"),
        (LINE.replace(b'"fir"', b'"Fir Tree"'), "tag"),
        (LINE.replace(b'"fir"', b"7"), "tag"),
        (LINE.replace(b"3.5", b"35"), "ph"),
        (LINE.replace(b"3.5", b"NaN"), "no number"),
        (LINE.replace(b"3.5", b"9" * 10_000), "not JSON"),
        (LINE.replace(b'"read"', b"5"), "kind"),
        (LINE.replace(b'"id":"a1"', b'"id":"a\\u001b1"'), "id"),
        (LINE.replace(b"18:00:00Z", b"18:00:00"), "at"),
        (LINE.replace(b'"ph"', b'"id":"b","ph"'), "twice"),
        (b"[1]", "object"),
        (b"[" * 100_000, "deeply"),
        (b"\xff", "UTF-8"),
        (b"{}", "kind"),
    ],
)
def test_what_cannot_be_an_event_is_refused_with_the_reason(line, reason):
    """By its line in the file."""
    assert reason in why(line)


def test_empty_lines_cost_nothing_and_are_counted():
    """A file of line feeds by the million ends at once; the line of what stands behind them is right."""
    found = from_json_lines(b"\n" * 3_000_000 + b" \t\r\n  " + LINE + b" \r\n\njunk\n")
    assert [line for line, _ in found.events] == [3_000_002] and [row.line for row in found.bad] == [3_000_004]
