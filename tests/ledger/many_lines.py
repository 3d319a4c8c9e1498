"""A script that fills a cellar with a thermometer's years: `many_lines.py CELLAR COUNT`."""

import os
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

from mustwatch.ledger.clock import EPOCH, MILLISECOND
from mustwatch.ledger.crc import sealed

BEGUN = datetime(2016, 1, 1, tzinfo=UTC)
TEN_YEARS_DAYS = 3650


def line(number: int, count: int, days: float = TEN_YEARS_DAYS, batch: str = "long") -> bytes:
    """One temperature reading as the ledger writes it."""
    at = BEGUN + timedelta(days=days) * (number / count)
    at -= timedelta(microseconds=at.microsecond)
    stamp = f"{((at - EPOCH) // MILLISECOND) << 80 | 7 << 76 | (number % 4096) << 64 | 2 << 62 | number:032x}"
    name = f"{stamp[:8]}-{stamp[8:12]}-{stamp[12:16]}-{stamp[16:20]}-{stamp[20:]}"
    temp_c = round(18 + (number * 7919 % 400) / 100, 2)
    head = f'{{"v":1,"id":"{name}","seq":{number + 1},"at":"{at:%Y-%m-%dT%H:%M:%SZ}","batch":"{batch}"'
    return sealed(f'{head},"kind":"read","must_c":{temp_c}}}'.encode()) + b"\n"


def fill(cellar: Path, count: int, days: float = TEN_YEARS_DAYS, device: str = "7e57000000000001") -> Path:
    """Write `count` readings to one device's file; its path."""
    path = cellar / "events" / f"{device}.jsonl"
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
        for number in range(count):
            file.write(line(number, count, days))
    return path


if __name__ == "__main__":
    fill(Path(sys.argv[1]), int(sys.argv[2]))
