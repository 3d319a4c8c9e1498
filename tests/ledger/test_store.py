"""The ledger: made, added to, read."""

import os
import stat
from datetime import timedelta

import pytest
from ledger.conftest import NOON

from mustwatch.ledger.clock import time_of
from mustwatch.ledger.crc import right
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.store import Ledger, NotSaved, Unusable


def test_what_is_appended_is_read_back_in_order(place):
    """Ids rise, numbers count from one, and a second process sees the same."""
    saved = place.ledger.append(
        [draft("noted", NOON, note="one"), draft("read", NOON, "fir", must_c=21.0, ph=3.4)], NOON
    )
    found = place.again().read()
    assert [(e.id, e.seq, e.kind, e.batch) for e in found.events] == [(e.id, e.seq, e.kind, e.batch) for e in saved]
    assert [e.seq for e in found.events] == [1, 2]
    assert found.troubles == () and found.read_only is None and found.condensed == 0


def test_every_line_carries_its_checksum_and_ends(place):
    """The format on disk: one line an event, checksum last."""
    place.note("one", "two")
    lines = place.file.read_bytes().split(b"\n")
    assert lines[-1] == b"" and len(lines) == 3
    assert all(right(line) for line in lines[:2])


def test_files_are_for_their_owner_alone_whatever_the_umask(place):
    """Mode 0600, also where the umask would allow more."""
    before = os.umask(0)
    try:
        place.note("one")
    finally:
        os.umask(before)
    for path in (place.file, place.cellar / "cellar.toml"):
        assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_cellar_is_never_made_over_another(place):
    """`init` twice must not touch the first."""
    place.note("one")
    before = place.snapshot()
    with pytest.raises(Unusable, match="is a cellar already"):
        Ledger.make(place.cellar, "")
    assert place.snapshot() == before


def test_a_missing_cellar_is_named_with_what_to_do(tmp_path):
    """One line, no traceback, nothing made."""
    ledger = Ledger(tmp_path / "none", state=tmp_path / "s")
    with pytest.raises(Unusable, match="init"):
        ledger.settings_text()
    with pytest.raises(NotSaved, match="init"):
        ledger.append([draft("noted", NOON, note="x")], NOON)
    assert ledger.read().events == () and not (tmp_path / "none").exists()


def test_settings_are_read_as_text(place):
    """A byte-order mark from an editor is not part of the text."""
    (place.cellar / "cellar.toml").write_bytes(b'\xef\xbb\xbfgallon = "us"\n')
    assert place.ledger.settings_text() == 'gallon = "us"\n'


def test_reading_writes_nothing_in_the_cellar(place):
    """Not even where there would be something to mend."""
    place.note("one", "two")
    with place.file.open("ab") as file:
        file.write(b'{"v":1,"torn')
    before = place.snapshot()
    place.again().read()
    list(place.again().lines())
    assert place.snapshot() == before


def test_the_fingerprint_changes_with_every_append_and_not_without(place):
    """What the screen polls: cheap, and never silent about a change."""
    seen = place.ledger.fingerprint()
    assert place.again().fingerprint() == seen
    place.note("one")
    after = place.ledger.fingerprint()
    assert after != seen
    place.note("two")
    assert place.ledger.fingerprint() != after


def test_ids_rise_though_the_clock_steps_back_between_processes(place):
    """The last id on disk is followed, not the wall clock."""
    ids = [
        place.again().append([draft("noted", NOON, note="x")], NOON + timedelta(days=days))[0].id
        for days in (0, 400, -20000, 3, 3)
    ]
    assert ids == sorted(set(ids))
    assert time_of(ids[-1]) >= NOON + timedelta(days=400)


def test_an_event_too_long_for_a_line_is_refused_before_anything_is_written(place):
    """One clear line; the good events of the same call are not saved either."""
    place.note("one")
    before = place.snapshot()
    with pytest.raises(ValueError, match="KiB"):
        place.ledger.append([draft("noted", NOON, note="ok"), draft("noted", NOON, note="x" * 2_000_000)], NOON)
    assert place.snapshot() == before


def test_text_that_is_no_unicode_is_refused(place):
    """A lone surrogate from a bad argument could not be read back."""
    with pytest.raises(ValueError, match="Unicode"):
        place.ledger.append([draft("noted", NOON, note="bad\udcff")], NOON)


def test_nothing_appended_is_nothing_written(place):
    """An empty call is no event and no file."""
    assert place.ledger.append([], NOON) == () and place.files() == []
