"""New and corrected events: what is refused and with which words; the schema."""

from __future__ import annotations

import json
from datetime import UTC, datetime

import jsonschema
import pytest
from sample_story import lines

from mustwatch.ledger.drafts import amended, draft, schema, stamped

AT = datetime(2026, 3, 1, 8, tzinfo=UTC)


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
