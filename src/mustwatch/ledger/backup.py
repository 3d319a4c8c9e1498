"""A copy of a cellar that verifies itself: made beside, read back, and only then given its name."""

import hashlib
import os
import shutil
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from mustwatch.ledger.device import Identity
from mustwatch.ledger.files import Special, make_folder, opened, plain, sync_folder, write_whole
from mustwatch.ledger.merge import ordered_lines
from mustwatch.ledger.trouble import NotSaved, Unusable

SUMS = "SHA256SUMS"
BLOCK = 1 << 20


@dataclass(frozen=True, slots=True)
class Backup:
    """A finished backup: where it is, what it holds, and what could not be copied."""

    path: Path
    files: int
    bytes: int
    events: int
    left_out: tuple[str, ...]


def backed_up(cellar: Path, identity: Identity, target: Path, now: datetime) -> Backup:
    """A verified copy of a cellar at `target`, or in a dated folder inside it where it exists.

    SHA256SUMS in it lists every file, for `sha256sum -c`. Raises Unusable, NotSaved; then nothing is left behind.
    """
    place = _place(cellar, target, now)
    beside = place.with_name(f".{place.name}.{os.getpid()}.tmp")
    try:
        identity.prepare()
        with identity.lock.held():
            done = _made(cellar, beside, place)
        os.rename(beside, place)
        sync_folder(place.parent)
        return done
    except OSError as error:
        why = str(error) if isinstance(error, NotSaved) else plain(error)
        raise NotSaved(f"no backup was made: {why}") from None
    finally:
        with suppress(OSError):
            shutil.rmtree(beside)


def _place(cellar: Path, target: Path, now: datetime) -> Path:
    if os.path.realpath(target).startswith(os.path.realpath(cellar) + os.sep) or target.resolve() == cellar.resolve():
        raise Unusable("a backup inside the cellar would be lost with it; name another place")
    if not target.exists():
        if not target.parent.is_dir():
            raise Unusable(f"there is no folder {target.parent}")
        return target
    if not target.is_dir():
        raise Unusable(f"{target} is there already and is no folder")
    place = target / f"{cellar.resolve().name}-{now.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    if os.path.lexists(place):
        raise Unusable(f"{place} is there already")
    return place


def _made(cellar: Path, beside: Path, place: Path) -> Backup:
    sums: dict[str, str] = {}
    left_out: list[str] = []
    size = 0
    make_folder(beside)
    for name in _names(cellar):
        (beside / name).parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        read = _Reading(cellar / name)
        try:
            write_whole(beside / name, read)
        except Special as error:
            left_out.append(f"{name} {plain(error)}")
            continue
        sums[name], size = read.sum.hexdigest(), size + read.bytes
    write_whole(beside / SUMS, ["".join(f"{sums[name]}  {name}\n" for name in sorted(sums)).encode()])
    for folder, _, _ in os.walk(beside):
        sync_folder(folder)
    events = _checked(cellar, beside, sums)
    return Backup(place, len(sums), size, events, tuple(left_out))


def _names(cellar: Path) -> Iterator[str]:
    """The files of a cellar, those of other programs' folders (a `.git`) left out."""
    for name in ("cellar.toml", ".gitattributes"):
        if os.path.lexists(cellar / name):
            yield name
    for top in ("events", "aside"):
        for folder, _, files in os.walk(cellar / top):
            for name in sorted(files):
                if not name.endswith(".tmp"):
                    yield os.path.relpath(os.path.join(folder, name), cellar)


class _Reading:
    """The blocks of a file as they are copied, summed on the way."""

    def __init__(self, path: Path) -> None:
        self.path, self.sum, self.bytes = path, hashlib.sha256(), 0

    def __iter__(self) -> Iterator[bytes]:
        with os.fdopen(opened(self.path), "rb") as file:
            while block := file.read(BLOCK):
                self.sum.update(block)
                self.bytes += len(block)
                yield block


def _checked(cellar: Path, copy: Path, sums: dict[str, str]) -> int:
    """How many events the copy holds, once every byte of it has been read back and is as it was."""
    for name, told in sums.items():
        read = _Reading(copy / name)
        for _ in read:
            pass
        if read.sum.hexdigest() != told:
            raise NotSaved(f"{name} reads back differently from what was copied; look at that disk")
    return sum(1 for _ in ordered_lines(copy, []))
