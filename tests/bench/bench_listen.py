"""What the listener takes of memory and of a core in real time: four thermometers and a float, a message a minute each.

    python -m tests.bench.bench_listen [MINUTES]

Needs mosquitto and the extra `mqtt`. Prints resident memory and the share of one core, and fails above 60 MiB or 1 %.
"""

from __future__ import annotations

import os
import random
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
from feeds.probes.play import THERMOMETERS, Publisher, message, settings, stage


def ticks(pid: int) -> int:
    """The clock ticks a process has used."""
    words = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return int(words[11]) + int(words[12])


def resident_mib(pid: int) -> float:
    """The memory a process holds."""
    status = Path(f"/proc/{pid}/status").read_text()
    return int(next(line for line in status.splitlines() if line.startswith("VmRSS")).split()[1]) / 1024


def main(minutes: int) -> int:
    """Plays so many minutes in real time."""
    chance, since = random.Random(1), datetime.now(UTC)
    with tempfile.TemporaryDirectory() as place, stage(Path(place)) as where:
        where.make(settings(where.port).replace("every_s = 1", "every_s = 60"))
        where.start_broker()
        where.start_listener()
        where.wait_for("connected")
        devices, pid = Publisher(where.port), where.listener.pid
        time.sleep(2)
        used, began = ticks(pid), time.monotonic()
        for _ in range(minutes):
            for probe in (*THERMOMETERS, "float"):
                devices.send(f"t/{probe}", message(probe, datetime.now(UTC), since, chance))
            time.sleep(60)
        share = (ticks(pid) - used) / os.sysconf("SC_CLK_TCK") / (time.monotonic() - began)
        size = resident_mib(pid)
        devices.close()
    print(f"resident {size:.1f} MiB, {100 * share:.3f} % of a core over {minutes} min")
    return int(size > 60 or share > 0.01)


if __name__ == "__main__":
    sys.exit(main(int((sys.argv[1:] or ["10"])[0])))
