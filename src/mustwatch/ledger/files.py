"""Files opened without following links, written so that a crash leaves the old or the new one."""

import errno
import fcntl
import os
import stat
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

NO_LINK = os.O_NOFOLLOW | os.O_CLOEXEC | os.O_NONBLOCK
# Where fsync stops at the drive's own memory (macOS), this goes through it.
FULL_SYNC: int | None = getattr(fcntl, "F_FULLFSYNC", None)


class Special(OSError):
    """Not a regular file: a link, a pipe, a folder or a device in place of one."""


def opened(path: Path | str, flags: int = os.O_RDONLY, mode: int = 0o600) -> int:
    """A descriptor of a regular file. Raises Special for anything else, OSError as the system does."""
    return opened_with_state(path, flags, mode)[0]


def opened_with_state(path: Path | str, flags: int, mode: int = 0o600) -> tuple[int, os.stat_result]:
    """A descriptor of a regular file and the file's state; raises as `opened`."""
    try:
        handle = os.open(path, flags | NO_LINK, mode)
    except OSError as error:
        if error.errno in (errno.ELOOP, errno.EISDIR, errno.ENXIO):
            raise Special(error.errno, f"is {nature(path)}, not a file") from None
        raise
    state = os.fstat(handle)
    if not stat.S_ISREG(state.st_mode):
        os.close(handle)
        raise Special(errno.EINVAL, f"is {nature(path)}, not a file")
    return handle, state


def nature(path: Path | str) -> str:
    """What stands at a path, in words: "a symbolic link", "a folder", "a pipe", "a device"."""
    try:
        mode = os.lstat(path).st_mode
    except OSError:
        return "unknown"
    tests = ((stat.S_ISLNK, "a symbolic link"), (stat.S_ISDIR, "a folder"), (stat.S_ISFIFO, "a pipe"))
    return next((words for test, words in tests if test(mode)), "a device or socket")


def sync(handle: int) -> None:
    """Have an open file's bytes on the disk itself when this returns. Raises OSError."""
    if FULL_SYNC is None:
        os.fsync(handle)
    else:
        fcntl.fcntl(handle, FULL_SYNC)


def sync_data(handle: int) -> None:
    """Have a file's new bytes and its new length on the disk when this returns. Raises OSError.

    For a file that already has its name: as `sync`, without waiting for times that nobody reads.
    """
    if FULL_SYNC is None and hasattr(os, "fdatasync"):
        os.fdatasync(handle)
    else:
        sync(handle)


def sync_folder(path: Path | str) -> None:
    """Make the names in a folder durable. Raises OSError."""
    handle = os.open(path, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def make_folder(path: Path, mode: int = 0o700) -> None:
    """Make a folder durably where it is missing. Raises Special where something else has its name."""
    with suppress(FileExistsError):
        os.mkdir(path, mode)
        os.chmod(path, mode)  # a umask may have taken even its owner's rights
        sync_folder(path.parent)
        return
    real_folder(path)


def real_folder(path: Path | str) -> os.stat_result:
    """The state of a folder. Raises Special for a link to one and for anything else, OSError."""
    state = os.lstat(path)
    if not stat.S_ISDIR(state.st_mode):
        raise Special(errno.ENOTDIR, f"{os.path.basename(path)} is {nature(path)}, not a folder")
    return state


def own_folder(path: Path) -> None:
    """Make a folder of local state, open to its owner alone whatever the umask. Raises OSError."""
    if not path.parent.is_dir():
        own_folder(path.parent)
    try:
        os.mkdir(path, 0o700)
    except FileExistsError:
        if not path.is_dir():
            raise
    state = os.stat(path)
    if state.st_uid == os.geteuid() and stat.S_IMODE(state.st_mode) != 0o700:
        os.chmod(path, 0o700)


def own_bytes(path: Path | str) -> bytes:
    """The bytes of a file of local state. Raises Special where somebody else could have written it, OSError."""
    handle, state = opened_with_state(path, os.O_RDONLY)
    with os.fdopen(handle, "rb") as file:
        if state.st_uid != os.geteuid() or state.st_mode & 0o022:
            raise Special(errno.EPERM, "can be written by others than its owner, so it is not believed")
        return file.read()


def write_whole(path: Path, parts: Iterable[bytes], mode: int = 0o600) -> None:
    """Put a file in place in one step: written beside, synced, renamed, its folder synced."""
    beside = path.with_name(f".{path.name}.{os.getpid()}.tmp")
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | NO_LINK, mode)
    try:
        try:
            os.fchmod(handle, mode)
            for part in parts:
                write_all(handle, part)
            sync(handle)
        finally:
            os.close(handle)
        os.rename(beside, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(beside)
        raise
    sync_folder(path.parent)


def write_all(handle: int, data: bytes) -> None:
    """Write every byte: one call where the system takes it whole."""
    done = os.write(handle, data)
    while done < len(data):
        done += os.write(handle, memoryview(data)[done:])


def plain(error: OSError) -> str:
    """The reason of a failed system call in the system's own words, without the path."""
    return (error.strerror or str(error) or "unknown reason").strip()
