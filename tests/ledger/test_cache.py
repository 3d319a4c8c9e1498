"""The cache spares reading; it never changes what is read. Here it is damaged in every way thought of."""

import json
import os
import random
import shutil
from hashlib import sha256

import pytest
from ledger.conftest import NOON
from ledger.many_lines import fill, line

from mustwatch.ledger import cache as cache_module
from mustwatch.ledger.events import draft, encode

COUNT, DAYS = 9_000, 30


@pytest.fixture
def large(place, monkeypatch):
    """A cellar with a thermometer's file large enough to be cached, read once."""
    monkeypatch.setattr(cache_module, "RACY_NS", -(10**18))
    fill(place.cellar, COUNT, DAYS)
    place.note("one")
    place.plain = story(place)
    (place.digest,) = place.root.glob("machine-home/cache/**/*.digest")
    return place


def story(place):
    """Everything a fresh process reads."""
    found = place.again().read()
    return [encode(event) for event in found.events], found.troubles, found.condensed


def counted(place, monkeypatch):
    """How many lines a fresh process reads from files of events."""
    from mustwatch.ledger import digest as digest_module

    seen = []
    real = digest_module.sound_lines

    def watched(*args):
        for each in real(*args):
            seen.append(each)
            yield each

    with monkeypatch.context() as patch:
        patch.setattr(digest_module, "sound_lines", watched)
        told = story(place)
    return told, len(seen)


def test_the_cache_is_used_and_tells_the_same(large, monkeypatch):
    """Only the small file is read again."""
    told, lines = counted(large, monkeypatch)
    assert told == large.plain and lines == 1
    assert large.plain[2] == COUNT + 1 - len(large.plain[0])


def test_only_new_lines_are_read_when_a_file_has_grown(large, monkeypatch):
    """A thermometer writes every few minutes."""
    path = large.cellar / "events" / "7e57000000000001.jsonl"
    with path.open("ab") as file:
        file.write(line(COUNT + 5, COUNT, DAYS))
    told, lines = counted(large, monkeypatch)
    assert lines == 2 and told[2] + len(told[0]) == COUNT + 2
    large.digest.unlink()
    assert story(large) == told


def damaged_by(change):
    """Damage as a function of the cache's bytes."""

    def damage(place):
        place.digest.write_bytes(change(place.digest.read_bytes()))

    return damage


def signed(payload: bytes) -> bytes:
    """A cache file whose own checksum is right, whatever it says."""
    return b"digest 1 %s\n" % sha256(payload).hexdigest().encode() + payload


def lying(key, value):
    """A cache that says something else, checksum and all."""

    def change(data):
        kept = json.loads(data.split(b"\n", 1)[1])
        kept[key] = value
        return signed(json.dumps(kept).encode())

    return damaged_by(change)


def replaced_by(make):
    """Something else in place of the cache file."""

    def damage(place):
        place.digest.unlink()
        make(place.digest)

    return damage


DAMAGE = {
    "empty": damaged_by(lambda b: b""),
    "cut in half": damaged_by(lambda b: b[: len(b) // 2]),
    "last byte gone": damaged_by(lambda b: b[:-1]),
    "one more byte": damaged_by(lambda b: b + b" "),
    "one bit": damaged_by(lambda b: b[:5000] + bytes([b[5000] ^ 1]) + b[5001:]),
    "random": damaged_by(lambda b: random.Random(1).randbytes(len(b))),
    "zeros": damaged_by(lambda b: b"\0" * len(b)),
    "another format": damaged_by(lambda b: b.replace(b"digest 1", b"digest 2", 1)),
    "not JSON": damaged_by(lambda b: signed(b"{")),
    "a list": damaged_by(lambda b: signed(b"[]")),
    "empty object": damaged_by(lambda b: signed(b"{}")),
    "deep": damaged_by(lambda b: signed(b"[" * 100_000)),
    "other stamp": lying("stamp", [1, 2, 3, 4]),
    "stamp of words": lying("stamp", "yes"),
    "lines of words": lying("lines", "yes"),
    "days of nothing": lying("days", None),
    "bytes below zero": lying("bytes_read", -5),
    "a folder": replaced_by(lambda path: path.mkdir()),
    "a link to itself": replaced_by(lambda path: path.symlink_to(path)),
    "a pipe": replaced_by(os.mkfifo),
    "gone": replaced_by(lambda path: None),
}


@pytest.mark.parametrize("damage", DAMAGE.values(), ids=DAMAGE)
def test_a_damaged_cache_changes_nothing(large, damage):
    """Read anew, the same story, no crash, no trouble told."""
    damage(large)
    assert story(large) == large.plain


def test_a_cache_of_another_cellar_is_not_used(large, another):
    """The same names, other lines: the checksum of the earlier bytes tells."""
    other = another("other")
    fill(other.cellar, COUNT - 1, DAYS)
    folder = next(other.root.glob("machine-home/cache")) / other.ledger.identity.folder.name
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copy(large.digest, folder)
    fresh = other.again().read()
    assert len(fresh.events) + fresh.condensed == COUNT - 1


def test_the_ledger_edited_in_place_is_read_anew(large):
    """Same length, same folder, a line changed in the middle: the file's times tell."""
    path = large.cellar / "events" / "7e57000000000001.jsonl"
    data = bytearray(path.read_bytes())
    at = data.index(b"must_c", 500_000) + 8
    data[at] ^= 1
    with path.open("r+b") as file:
        file.write(data)
    assert [trouble.kind for trouble in story(large)[1]] == ["checksum"]


def test_an_edit_hidden_behind_growth_is_found(large):
    """A changed line and new lines after it: the checksum of the earlier bytes tells."""
    path = large.cellar / "events" / "7e57000000000001.jsonl"
    data = bytearray(path.read_bytes())
    data[data.index(b"must_c", 500_000) + 8] ^= 1
    with path.open("r+b") as file:
        file.write(data + line(COUNT + 5, COUNT, DAYS))
    assert [trouble.kind for trouble in story(large)[1]] == ["checksum"]


def test_a_file_changed_just_now_is_not_trusted_by_its_times(large, monkeypatch):
    """Times are no finer than the disk's clock; two writes may share one."""
    monkeypatch.setattr(cache_module, "RACY_NS", 10**18)
    path = large.cellar / "events" / "7e57000000000001.jsonl"
    found = path.stat()
    data = bytearray(path.read_bytes())
    data[data.index(b"must_c", 500_000) + 8] ^= 1
    path.write_bytes(data)
    os.utime(path, ns=(found.st_atime_ns, found.st_mtime_ns))
    assert [trouble.kind for trouble in story(large)[1]] == ["checksum"]


def test_a_correction_of_a_hidden_reading_brings_it_back(large):
    """Withdrawn from the cache's point of view too."""
    shown = {json.loads(each)["id"] for each in large.plain[0]}
    ids = (json.loads(line(number, COUNT, DAYS))["id"] for number in range(COUNT))
    hidden = next(each for each in ids if each not in shown)
    large.ledger.append([draft("withdrew", NOON, "long", target=hidden)], NOON)
    for _ in range(2):
        assert sum(hidden.encode() in each and b'"read"' in each for each in story(large)[0]) == 1


def test_a_cache_folder_that_cannot_be_written_is_no_matter(place):
    """A full or read-only cache disk."""
    fill(place.cellar, COUNT, DAYS)
    (place.root / "machine-home").mkdir(exist_ok=True)
    (place.root / "machine-home" / "cache").write_text("a file")
    found = place.again().read()
    assert len(found.events) + found.condensed == COUNT and found.troubles == ()


def test_a_small_cellar_needs_no_cache(place):
    """Nothing is written for a cellar kept by hand."""
    place.note("one")
    place.again().read()
    assert not list(place.root.glob("machine-home/cache/**/*.digest"))
