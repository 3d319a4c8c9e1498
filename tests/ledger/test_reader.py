"""Many files, one story: order, doubles, copies, what is unknown."""

import json
import random

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ledger.conftest import NOON, Place

from mustwatch.ledger.codec import encode
from mustwatch.ledger.crc import sealed
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import UnknownKind
from mustwatch.ledger.store import Ledger

IDS = [f"01a00000-0000-7{n:03x}-8000-000000000000" for n in range(12)]
DRAFTS = [
    lambda: draft("noted", NOON, note="a note"),
    lambda: draft("read", NOON, "fir", gravity={"value": 1.05}),
    lambda: draft("read", NOON, "fir", must_c=20.0),
    lambda: draft("closed", NOON, "fir", closure="airlock"),
]


def written(number: int) -> bytes:
    """The line of one of a dozen events."""
    return sealed(encode(stamped(DRAFTS[number % len(DRAFTS)](), IDS[number], number + 1)))


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.integers(0, 11), st.integers(0, 2)), max_size=40))
def test_any_order_of_arrival_tells_the_same_story(tmp_path_factory, arrivals):
    """Lines in any order, in any file, any number of times: each event once, in the order of the ids."""
    root = tmp_path_factory.mktemp("any")
    place = Place(root)
    for number, file in arrivals:
        with (place.cellar / "events" / f"00000000000000a{file}.jsonl").open("ab") as handle:
            handle.write(written(number) + b"\n")
    wanted = [IDS[number] for number in sorted({number for number, _ in arrivals})]
    found = place.again().read()
    assert [event.id for event in found.events] == wanted and found.troubles == ()
    assert [event_id for event_id, _ in place.again().lines()] == wanted


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 3000))
def test_any_prefix_of_a_file_can_be_read(tmp_path_factory, cut):
    """A file cut anywhere gives the whole events before the cut."""
    place = Place(tmp_path_factory.mktemp("cut"))
    data = b"".join(written(number) + b"\n" for number in range(12))
    (place.cellar / "events" / "00000000000000aa.jsonl").write_bytes(data[:cut])
    whole = data[:cut].count(b"\n") + (1 if data[:cut][-1:] == b"}" and data[cut : cut + 1] == b"\n" else 0)
    assert len(place.again().read().events) == whole


def test_the_same_story_whatever_the_shuffle(place):
    """The fold sees the same sequence, so it tells the same cellar."""
    numbers = list(range(12))
    stories = set()
    for seed in range(5):
        random.Random(seed).shuffle(numbers)
        path = place.cellar / "events" / "00000000000000aa.jsonl"
        path.write_bytes(b"".join(written(number) + b"\n" for number in numbers))
        stories.add(tuple(encode(event) for event in place.again().read().events))
    assert len(stories) == 1


def test_one_id_with_two_contents_shows_both(place):
    """Neither wins in silence."""
    place.note("one")
    line = place.file.read_bytes()
    keys = json.loads(line)
    keys.pop("crc")
    other = sealed(json.dumps({**keys, "note": "other"}, separators=(",", ":")).encode())
    place.file.write_bytes(line + other + b"\n")
    assert sorted(place.notes()) == ["one", "other"]
    assert place.kinds() == ["twice"]
    troubles = []
    assert len(list(place.again().lines(troubles))) == 2 and troubles[0].kind == "twice"


def test_a_copy_left_by_a_sync_is_read_told_and_not_written(place):
    """Whatever the sync calls it, as long as it ends in .jsonl."""
    place.note("one")
    base = place.file.read_bytes()
    place.note("two")
    full = place.file.read_bytes()
    place.file.write_bytes(base)
    names = (".sync-conflict-20260101-120000-ABCDEFG", " (conflicted copy 2026-01-01)", " 2", "-laptop")
    copies = [place.file.with_name(place.file.stem + name + ".jsonl") for name in names]
    for copy in copies:
        copy.write_bytes(full)
    assert place.notes() == ["one", "two"] and place.kinds() == ["copy"] * 4
    place.ledger = place.again()
    place.note("three")
    assert place.notes() == ["one", "two", "three"]
    assert all(copy.read_bytes() == full for copy in copies)


def test_half_written_files_of_other_programs_are_ignored(place):
    """An editor's or a sync's temporary files hold nothing of their own."""
    place.note("one")
    data, name = place.file.read_bytes(), place.file.name
    for junk in (f".syncthing.{name}.tmp", f"{name}~", f".{name}.swp", f".{name}.Xy12Ab", "README", ".keep"):
        (place.cellar / "events" / junk).write_bytes(data[:-20])
    assert place.notes() == ["one"] and place.kinds() == []


def test_a_file_that_would_be_passed_over_is_told(place):
    """Nothing that looks like events is left out in silence."""
    place.note("one")
    place.file.with_name(place.file.name + ".orig").write_bytes(place.file.read_bytes())
    assert place.kinds() == ["stray"]


def test_unknown_kinds_and_keys_survive_byte_for_byte(place):
    """A newer program's lines pass through an older one unchanged."""
    place.note("one")
    line = sealed(
        '{"v":1,"id":"01a00000-0000-7000-8000-000000000000","seq":1,"at":"2026-06-01T12:00:00Z","kind":"dreamt",'
        '"of":{"deep":[1,2,{"x":null}]},"wie":"süß","z":1.50}'.encode()
    )
    known = sealed(
        b'{"v":1,"id":"01a00000-0000-7000-8000-000000000001","seq":2,"at":"2026-06-01T12:00:00Z","batch":"fir",'
        b'"kind":"swirled","moon":"full"}'
    )
    path = place.cellar / "events" / "00000000000000aa.jsonl"
    path.write_bytes(line + b"\n" + known + b"\n")
    found = place.again().read()
    dreamt, swirled = (next(e for e in found.events if e.kind == kind) for kind in ("dreamt", "swirled"))
    assert found.troubles == () and isinstance(dreamt, UnknownKind)
    assert swirled.model_extra == {"moon": "full"}
    place.note("two")
    assert path.read_bytes() == line + b"\n" + known + b"\n"
    assert {line, known} <= {each for _, each in place.again().lines()}


def test_a_file_that_may_not_be_read_is_told(place, monkeypatch):
    """Its events are missing, and that must not look like an empty cellar."""
    from mustwatch.ledger import lines

    place.note("one")

    def refuse(*_args):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(lines, "opened", refuse)
    found = place.again().read()
    assert found.events == () and [t.kind for t in found.troubles] == ["unread"] and found.troubles[0].fatal


def test_an_empty_folder_is_an_empty_story(tmp_path):
    """No cellar, no events, no crash."""
    assert Ledger(tmp_path, state=tmp_path / "s").read().events == ()
