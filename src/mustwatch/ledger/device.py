"""Which file of the cellar this machine writes: a random name kept outside the cellar."""

import hashlib
import json
import os
import re
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from mustwatch.ledger.files import own_bytes, own_folder, write_whole
from mustwatch.ledger.lock import HINT_BYTES, Lock

NAME = re.compile(r"[0-9a-f]{16}\Z")
MACHINE_FILES = ("/etc/machine-id", "/var/lib/dbus/machine-id")


def machine() -> str:
    """A name of this machine that a copied home folder does not carry along."""
    for path in MACHINE_FILES:
        with suppress(OSError):
            found = Path(path).read_text(encoding="ascii", errors="replace").strip()
            if found:
                return hashlib.sha256(found.encode()).hexdigest()[:16]
    import uuid

    return f"{uuid.getnode():012x}"


class Written(NamedTuple):
    """What was written last: by which device, its number, its id."""

    device: str
    seq: int
    id: str


class Identity:
    """This machine's place in one cellar: its lock, its device name, and what it wrote last."""

    def __init__(self, state: Path, cellar: Path, machine_name: Callable[[], str] = machine) -> None:
        where = os.path.realpath(cellar)
        self.state = state
        self.folder = state / "cellars" / hashlib.sha256(os.fsencode(where)).hexdigest()[:24]
        self.lock = Lock(self.folder / "lock")
        self._kept_in = os.path.join(self.folder, "device.json")
        self._where = where
        self._machine = machine_name
        self._seen: tuple[object, str | None] = (None, None)

    def prepare(self) -> None:
        """Make the folders of local state, open to their owner alone. Raises OSError."""
        for folder in (self.state, self.state / "cellars", self.folder):
            own_folder(folder)

    def device(self) -> str | None:
        """The device that writes here, or None: none yet, or the state came from another machine."""
        path = self._kept_in
        try:
            found = os.stat(path)
        except OSError:
            return None
        stamp = (found.st_ino, found.st_mtime_ns, found.st_ctime_ns)
        if stamp != self._seen[0]:
            self._seen = (stamp, self._kept(path))
        return self._seen[1]

    def _kept(self, path: str) -> str | None:
        try:
            kept = json.loads(own_bytes(path))
            name, home = kept["device"], kept["machine"]
        except (OSError, ValueError, TypeError, KeyError):
            return None
        if not isinstance(name, str) or not NAME.match(name):
            return None
        return name if home == self._machine() else None

    def renew(self) -> str:
        """A new device name, kept durably before it is used. Raises OSError."""
        name = os.urandom(8).hex()
        mine = self.state / "devices"
        own_folder(mine)
        kept = {"device": name, "machine": self._machine(), "cellar": self._where}
        text = json.dumps(kept).encode()
        write_whole(mine / name, [text])
        write_whole(self.folder / "device.json", [text])
        return name

    def ours(self, name: str) -> bool:
        """Whether this machine made a device name, here or for another copy of the cellar."""
        try:
            kept = json.loads(own_bytes(self.state / "devices" / name))
            return bool(kept["machine"] == self._machine())
        except (OSError, ValueError, TypeError, KeyError):
            return False

    def last_written(self) -> "Written | None":
        """The last event this machine wrote (only under the lock), as far as is known."""
        return _written(self.lock.hint())

    def word(self) -> "Written | None":
        """The same, for those who only look: without the lock, and without making its file."""
        try:
            return _written((self.folder / "lock").read_bytes()[:HINT_BYTES])
        except OSError:
            return None

    def note_written(self, device: str, seq: int, event_id: str) -> None:
        """Leave word of the last event written (only under the lock); an older word costs a longer look."""
        hint = f"{device} {seq} {event_id}".encode("ascii", "replace").ljust(HINT_BYTES)
        try:
            self.lock.leave(hint[:HINT_BYTES])
        except OSError:
            return


def _written(hint: bytes) -> Written | None:
    try:
        name, seq, event_id = hint.strip(b"\0").decode("ascii").split()
        return Written(name, int(seq), event_id) if NAME.match(name) else None
    except ValueError:
        return None
