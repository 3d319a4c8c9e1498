"""All lines in order, one at a time."""

import random
import tracemalloc

from ledger.many_lines import fill, line

from mustwatch.ledger.merge import ordered_lines


def ids(place, troubles=None):
    return [event_id for event_id, _ in place.again().lines(troubles)]


def test_files_are_merged_by_the_clock_in_their_ids(place):
    """Each file is in order; the merge is too, and nothing is lost."""
    lines = [line(number, 300) for number in range(300)]
    for device in range(3):
        path = place.cellar / "events" / f"000000000000000{device}.jsonl"
        path.write_bytes(b"".join(b + b"" for b in lines[device::3]))
    found = ids(place)
    assert found == sorted(found) and len(set(found)) == 300


def test_a_file_in_disorder_is_put_in_order(place):
    """As an import of older lines leaves it, or worse."""
    lines = [line(number, 500) for number in range(500)]
    path = place.cellar / "events" / "00000000000000aa.jsonl"
    path.write_bytes(b"".join(lines))
    wanted = ids(place)
    path.write_bytes(b"".join(lines[250:] + lines[:250]))
    assert ids(place) == wanted
    random.Random(3).shuffle(lines)
    path.write_bytes(b"".join(lines))
    assert ids(place) == wanted


def test_doubled_files_give_each_event_once(place):
    """All lines twice, one after the other or side by side."""
    lines = [line(number, 100) for number in range(100)]
    path = place.cellar / "events" / "00000000000000aa.jsonl"
    for data in (b"".join(lines) * 2, b"".join(each * 2 for each in lines)):
        path.write_bytes(data)
        troubles = []
        assert len(ids(place, troubles)) == 100 and troubles == []


def test_damage_is_told_once_though_a_file_is_walked_twice(place):
    """The first walk looks for the order, the second gives the lines."""
    path = place.cellar / "events" / "00000000000000aa.jsonl"
    path.write_bytes(line(0, 10) + b"junk\n" + line(1, 10))
    troubles = []
    assert len(ids(place, troubles)) == 2 and [t.line for t in troubles] == [2]


def test_memory_stays_small_whatever_the_size(place):
    """Thirty thousand lines within a few megabytes."""
    fill(place.cellar, 30_000)
    tracemalloc.start()
    count = sum(1 for _ in ordered_lines(place.cellar, []))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert count == 30_000 and peak < 6 << 20
