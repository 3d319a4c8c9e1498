"""A cellar of one's own for each test, and ways to read its bytes."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from mustwatch.ledger.drafts import draft
from mustwatch.ledger.store import Ledger

NOON = datetime(2026, 6, 1, 12, tzinfo=UTC)


class Place:
    """One cellar on one machine: the ledger, its folder, its files."""

    def __init__(self, root: Path, name: str = "cellar", machine: str = "home") -> None:
        self.cellar = root / name
        self.root, self.machine = root, machine
        if not self.cellar.exists():
            Ledger.make(self.cellar, '[cellar]\nname = "test"\n')
        self.ledger = self.again()

    def again(self) -> Ledger:
        """The same cellar opened by another process of the same machine."""
        where = self.root / f"machine-{self.machine}"
        return Ledger(self.cellar, state=where / "state")

    def note(self, *texts: str, at: datetime = NOON) -> list[str]:
        """Append one note a text, each by its own; their ids."""
        return [self.ledger.append([draft("noted", at, note=text)], at)[0].id for text in texts]

    def notes(self) -> list[str]:
        """The notes as a fresh process reads them."""
        return [event.note or "" for event in self.again().read().events]

    def kinds(self) -> list[str]:
        """The kinds of trouble a fresh process sees."""
        return [trouble.kind for trouble in self.again().read().troubles]

    def files(self) -> list[Path]:
        """The files of events, by name."""
        return sorted((self.cellar / "events").glob("*.jsonl"))

    @property
    def file(self) -> Path:
        """The only file of events."""
        (only,) = self.files()
        return only

    def aside(self) -> bytes:
        """All bytes set aside."""
        return b"".join(path.read_bytes() for path in sorted(self.cellar.glob("aside/*")) if path.is_file())

    def snapshot(self) -> dict[str, tuple[int, int, bytes]]:
        """Every file of the cellar with its inode, time and bytes."""
        paths = sorted(path for path in self.cellar.rglob("*") if path.is_file() and not path.is_symlink())
        return {str(p): (p.stat().st_ino, p.stat().st_mtime_ns, p.read_bytes()) for p in paths}


@pytest.fixture
def place(tmp_path: Path) -> Place:
    """A new cellar."""
    return Place(tmp_path)


@pytest.fixture
def another(tmp_path: Path) -> Callable[..., Place]:
    """More places under the same temporary folder."""
    return lambda name="cellar", machine="home": Place(tmp_path, name, machine)
