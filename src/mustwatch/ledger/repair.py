"""Mending: what can be done about damage, said exactly before it is done. Damaged bytes are kept in `aside`."""

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from zlib import crc32

from mustwatch.ledger.device import Identity
from mustwatch.ledger.files import make_folder, opened, real_folder, sync, sync_folder, write_whole
from mustwatch.ledger.lines import damaged_parts
from mustwatch.ledger.sources import LINKED, SEEN, Found, kept_aside, sources
from mustwatch.ledger.tail import blocks, cut_name, tail_of
from mustwatch.ledger.trouble import Unusable


@dataclass(frozen=True, slots=True)
class Mend:
    """One thing that can be mended.

    what: `link`, `tail`, `lines`, `copy` or `aside`; says: what will be done, exactly.

    lines: the numbers of the lines it is about; shows: the beginning of what it is about.
    """

    what: str
    file: str
    says: str
    lines: tuple[int, ...] = ()
    shows: str = ""


def mends(cellar: Path, identity: Identity, everything: bool = False) -> list[Mend]:
    """What can be mended here: files this machine writes, with `everything` those of other devices too."""
    found = [source for source in sources(cellar)[0] if everything or _ours(source, identity)]
    plans = [mend for source in found for mend in _of_file(source)]
    plans += [_of_copy(source) for source in sources(cellar)[0] if source.copy]
    return plans + [_of_aside(cellar / trouble.file) for trouble in kept_aside(cellar) if trouble.kind == "aside"]


def not_ours(cellar: Path, identity: Identity) -> list[str]:
    """The names of damaged files that other devices write."""
    found = [source for source in sources(cellar)[0] if not source.copy and not _ours(source, identity)]
    return [source.name for source in found if any(mend.what == "lines" for mend in _of_file(source))]


def _ours(source: Found, identity: Identity) -> bool:
    return not source.copy and source.device is not None and identity.ours(source.device)


def _of_file(source: Found) -> Iterator[Mend]:
    try:
        handle = opened(source.path)
    except OSError:
        return
    try:
        tail = tail_of(handle)
    finally:
        os.close(handle)
    if source.state.st_nlink > 1:
        yield Mend("link", source.name, "write it anew as a file of its own; its other name keeps the bytes of now")
    if tail.torn:
        count = tail.size - tail.loose_from
        does = f"copy the {count} bytes from byte {tail.loose_from} on to aside, then cut them off"
        yield Mend("tail", source.name, f"{does}: they are a line torn off in the middle")
    bad = tuple(number for number, damaged, _ in damaged_parts(source) if damaged)
    if bad:
        which = f"line {bad[0]}" if len(bad) == 1 else f"{len(bad)} lines ({', '.join(map(str, bad[:8]))}...)"
        does = f"copy {which} to aside, then write the file anew without the damage"
        yield Mend("lines", source.name, f"{does}; every sound line stays as it is", bad)


def _of_copy(source: Found) -> Mend:
    does = "add the events that stand only in it to this device's own file, with their ids"
    return Mend("copy", source.name, f"{does}, then move it to aside/{SEEN}")


def _of_aside(path: Path) -> Mend:
    try:
        with os.fdopen(opened(path), "rb") as file:
            shows = file.read(400).decode("utf-8", "replace")
    except OSError:
        shows = ""
    says = f"move it to aside/{SEEN}: you have seen it; its bytes stay there"
    return Mend("aside", f"aside/{path.name}", says, shows=shows)


def mended(cellar: Path, identity: Identity, mend: Mend) -> str:
    """What was done, as one line. Raises Unusable where things changed meanwhile, OSError, NotSaved."""
    identity.prepare()
    real_folder(cellar / "events")
    with identity.lock.held():
        if mend.what == "aside":
            return _filed(cellar, cellar / mend.file)
        source = next((each for each in sources(cellar)[0] if each.name == mend.file), None)
        if source is None:
            raise Unusable(f"{mend.file} is not there any more; nothing was done")
        if mend.what == "copy":
            return _filed(cellar, source.path)
        if mend.what == "link":
            write_whole(source.path, _unchanged(source))
            return "it is a file of its own now"
        return _tail_cut(cellar, source) if mend.what == "tail" else _lines_cut(cellar, source, mend.lines)


def _unchanged(source: Found) -> Iterator[bytes]:
    """All bytes of a file. Raises Unusable where it changed since it was listed: then nothing of it is replaced."""
    handle = opened(source.path)
    try:
        yield from blocks(handle, 0, source.state.st_size)
    finally:
        os.close(handle)
    _same(source)


def _filed(cellar: Path, path: Path) -> str:
    make_folder(cellar / "aside")
    make_folder(cellar / "aside" / SEEN)
    target = cellar / "aside" / SEEN / path.name
    count = 1
    while os.path.lexists(target):
        count += 1
        target = target.with_name(f"{path.name}.{count}")
    os.rename(path, target)
    sync_folder(target.parent)
    sync_folder(path.parent)
    return f"moved to aside/{SEEN}/{target.name}"


def _tail_cut(cellar: Path, source: Found) -> str:
    if source.state.st_nlink > 1:
        raise Unusable(f"{source.name} {LINKED}; make it a file of its own first")
    handle = opened(source.path, os.O_RDWR)
    try:
        tail = tail_of(handle)
        if not tail.torn:
            return "its end is whole by now; nothing was done"
        make_folder(cellar / "aside")
        name = cut_name(source.path.stem, handle, tail)
        write_whole(cellar / "aside" / name, blocks(handle, tail.loose_from, tail.size))
        os.ftruncate(handle, tail.loose_from)
        sync(handle)
    finally:
        os.close(handle)
    return f"{tail.size - tail.loose_from} bytes are now in aside/{name}"


def _lines_cut(cellar: Path, source: Found, lines: tuple[int, ...]) -> str:
    """Write the file anew without the damage, once the damaged lines are safe in `aside`."""
    bad = [damaged or sound for number, damaged, sound in damaged_parts(source, every=True) if number in lines]
    kept = b"\n".join(line.rstrip(b"\n") for line in bad) + b"\n"
    name = f"{source.path.stem}-lines-{crc32(kept):08x}.damaged"
    make_folder(cellar / "aside")
    write_whole(cellar / "aside" / name, [kept])
    write_whole(source.path, _without(source, lines))
    return f"{len(bad)} lines are now in aside/{name}"


def _without(source: Found, lines: tuple[int, ...]) -> Iterator[bytes]:
    for number, damaged, sound in damaged_parts(source, every=True):
        if sound and (damaged or number not in lines):
            yield sound
    _same(source)


def _same(source: Found) -> None:
    now = os.lstat(source.path)
    if (now.st_ino, now.st_size, now.st_mtime_ns) != (
        source.state.st_ino,
        source.state.st_size,
        source.state.st_mtime_ns,
    ):
        raise Unusable(f"{source.name} changed meanwhile; nothing was done, run `repair` again")


def dropping(cellar: Path, identity: Identity, file: str, line: int, everything: bool = False) -> Mend:
    """The mend that sets one chosen line aside. Raises Unusable where there is no such line to set aside here."""
    source = next((each for each in sources(cellar)[0] if each.name == file), None)
    if source is None or not (everything or _ours(source, identity)):
        raise Unusable(f"{file} is no file of events that this machine writes")
    if not any(number == line for number, _, _ in damaged_parts(source, every=True)):
        raise Unusable(f"{file} has no line {line}")
    return Mend("lines", file, f"copy line {line} to aside, then write the file anew without it", (line,))
