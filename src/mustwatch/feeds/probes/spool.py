"""Values that are not lines yet, safe on disk before they are acknowledged. In local state, outside the cellar.

A JSON array a line: [probe, counted at, own time or null, °C or null, SG or null]; without the last three it only
remembers that a value of that own time was counted.
"""

from __future__ import annotations

import json
import os
from collections import deque
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path

from mustwatch.feeds.probes.sample import Sample
from mustwatch.ledger.files import opened, own_folder, sync_data, sync_folder, write_all, write_whole

REMEMBERED = 512  # own times of a probe by which a value is known again
LARGEST = 1 << 18  # bytes after which what stands in the ledger is thrown out
TICK = timedelta(milliseconds=1)


class Spool:
    """The file of waiting values. Raises OSError where the disk does: then a value was not taken."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.waiting: dict[str, list[Sample]] = {}
        self._seen: dict[str, deque[datetime]] = {}
        self._latest: dict[str, datetime] = {}
        self._handle = -1
        self._size = 0

    def open(self) -> None:
        """Reads what waits, cuts a torn end, and is ready to add."""
        own_folder(self.path.parent)
        fresh = not self.path.exists()
        self._handle = opened(self.path, os.O_RDWR | os.O_CREAT | os.O_APPEND)
        if fresh:
            sync_folder(self.path.parent)
        with open(self._handle, "rb", closefd=False) as file:
            data = file.read()
        self._size = data.rfind(b"\n") + 1
        os.ftruncate(self._handle, self._size)
        for line in data[: self._size].splitlines():
            self._restore(line)

    def close(self) -> None:
        """Lets go of the file."""
        if self._handle >= 0:
            os.close(self._handle)
            self._handle = -1

    def add(self, probe: str, sample: Sample, durable: bool) -> Sample | None:
        """The sample under the time it counts at, on disk when this returns where `durable`; None where it is known."""
        if sample.told and sample.at in self._seen.get(probe, ()):
            return None
        counted = self._in_order(probe, sample)
        own = sample.at.astimezone(UTC).isoformat() if sample.told else None
        line = json.dumps([probe, counted.at.astimezone(UTC).isoformat(), own, sample.celsius, sample.gravity])
        data = line.encode() + b"\n"
        try:
            write_all(self._handle, data)
            if durable:
                sync_data(self._handle)
        except OSError:
            os.ftruncate(self._handle, self._size)
            raise
        self._size += len(data)
        self._remember(probe, counted, sample.at if sample.told else None)
        return counted

    def told(self, until: Mapping[str, datetime]) -> None:
        """Forgets what stands in the ledger: the values of each probe up to a time. The file is cleared when large."""
        for probe, at in until.items():
            self.waiting[probe] = [sample for sample in self.waiting.get(probe, ()) if sample.at > at]
        if self._size > LARGEST:
            self._rewrite()

    def _in_order(self, probe: str, sample: Sample) -> Sample:
        """The sample at a time after all before it: the order of arrival is kept whatever a device's clock does."""
        latest = self._latest.get(probe)
        at = sample.at if latest is None or sample.at > latest else latest + TICK
        return Sample(at, sample.celsius, sample.gravity, sample.told)

    def since(self, probe: str, at: datetime) -> None:
        """Nothing of a probe counts up to a time: so much is in the ledger."""
        self._latest[probe] = max(at, self._latest.get(probe, at))

    def _remember(self, probe: str, counted: Sample, own: datetime | None) -> None:
        self.waiting.setdefault(probe, []).append(counted)
        self._latest[probe] = counted.at
        if own:
            self._seen.setdefault(probe, deque(maxlen=REMEMBERED)).append(own)

    def _restore(self, line: bytes) -> None:
        try:
            probe, counted, own, *values = json.loads(line)
            at = datetime.fromisoformat(own) if own else None
            if values:
                celsius, gravity = values
                sample = Sample(datetime.fromisoformat(counted), celsius, gravity, at is not None)
                self._remember(probe, sample, at)
            elif at:
                self._seen.setdefault(probe, deque(maxlen=REMEMBERED)).append(at)
        except (ValueError, TypeError):
            return

    def _rewrite(self) -> None:
        write_whole(self.path, self._lines())
        self.close()
        self._handle = opened(self.path, os.O_RDWR | os.O_APPEND)
        self._size = os.fstat(self._handle).st_size

    def _lines(self) -> Iterable[bytes]:
        for probe, seen in self._seen.items():
            waiting = {sample.at for sample in self.waiting.get(probe, ()) if sample.told}
            yield from (_line([probe, None, at.isoformat()]) for at in seen if at not in waiting)
        for probe, samples in self.waiting.items():
            for sample in samples:
                own = sample.at.isoformat() if sample.told else None
                yield _line([probe, sample.at.isoformat(), own, sample.celsius, sample.gravity])


def _line(values: list[object]) -> bytes:
    return json.dumps(values).encode() + b"\n"
