"""The spool: what it took is there after any end, counted once."""

import json
from datetime import UTC, datetime, timedelta

import pytest

from mustwatch.feeds.probes import spool as module
from mustwatch.feeds.probes.sample import Sample
from mustwatch.feeds.probes.spool import Spool

AT = datetime(2026, 5, 1, tzinfo=UTC)


def opened(path) -> Spool:
    found = Spool(path / "feeds" / "spool.jsonl")
    found.open()
    return found


def told(minutes: float) -> Sample:
    return Sample(AT + timedelta(minutes=minutes), 20.0, None, told=True)


def test_what_was_taken_is_there_after_a_crash(tmp_path):
    """A torn end is cut; the rest waits."""
    first = opened(tmp_path)
    for n in range(5):
        first.add("shelf", told(n), durable=True)
    with first.path.open("ab") as file:
        file.write(b'["shelf", "2026')
    again = opened(tmp_path)
    assert [sample.at for sample in again.waiting["shelf"]] == [told(n).at for n in range(5)]
    again.add("shelf", told(6), durable=True)
    assert len(opened(tmp_path).waiting["shelf"]) == 6


def test_the_same_value_of_a_device_counts_once(tmp_path):
    """Sent again by the broker, before and after a crash, in any order."""
    first = opened(tmp_path)
    assert first.add("shelf", told(1), durable=True) and first.add("shelf", told(0), durable=True)
    assert first.add("shelf", told(1), durable=True) is None
    assert opened(tmp_path).add("shelf", told(0), durable=True) is None
    assert opened(tmp_path).add("jug", told(0), durable=True)


def test_values_count_in_the_order_they_came(tmp_path):
    """A device whose clock steps back loses nothing."""
    found = opened(tmp_path)
    times = [found.add("shelf", told(n), durable=False).at for n in (5, 1, 2, 6)]
    assert times == sorted(times) and len(set(times)) == 4


def test_what_is_in_the_ledger_is_thrown_out_and_still_known(tmp_path, monkeypatch):
    """The file stays small, and a late repetition is still a repetition."""
    monkeypatch.setattr(module, "LARGEST", 1000)
    found = opened(tmp_path)
    for n in range(100):
        found.add("shelf", told(n), durable=False)
    found.told({"shelf": told(97).at})
    again = opened(tmp_path)
    assert len(again.waiting["shelf"]) == 2
    assert again.add("shelf", told(3), durable=True) is None
    again.since("shelf", told(97).at)
    assert found.path.stat().st_mode & 0o077 == 0


def test_a_full_disk_takes_nothing_and_leaves_no_half_line(tmp_path, monkeypatch):
    """Whoever sent it is not thanked, and will send it again."""
    found = opened(tmp_path)
    found.add("shelf", told(1), durable=True)
    monkeypatch.setattr(
        module, "sync_data", lambda handle: (_ for _ in ()).throw(OSError(28, "No space left on device"))
    )
    with pytest.raises(OSError, match="space"):
        found.add("shelf", told(2), durable=True)
    monkeypatch.undo()
    assert found.add("shelf", told(2), durable=True)
    assert len(found.path.read_text().splitlines()) == 2
    assert all(json.loads(line) for line in found.path.read_text().splitlines())
