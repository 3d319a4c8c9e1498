"""Plays probes through a real broker: messages at a pace, the broker and the listener killed at random, and the count.

Also a program: python tests/feeds/probes/play.py DAYS SPEED [KILLS] plays so many days so many times faster.
Everything stays on the loopback address and ends by itself.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from math import cos, exp, pi
from pathlib import Path

MINUTE = timedelta(minutes=1)
THERMOMETERS = ("shelf", "jug", "cellar-north", "window")
SOURCE = Path(__file__).parents[3] / "src"


def mosquitto() -> str | None:
    """The broker's program, where it is installed."""
    return shutil.which("mosquitto") or shutil.which("mosquitto", path="/usr/sbin:/usr/local/sbin")


def free_port() -> int:
    """A port of the loopback address that nobody uses."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


@dataclass
class Stage:
    """A broker and a listener over a cellar, all in one folder."""

    folder: Path
    port: int = field(default_factory=free_port)
    more: str = ""
    broker: subprocess.Popen[bytes] | None = None
    listener: subprocess.Popen[bytes] | None = None
    version: str = "5"

    @property
    def env(self) -> dict[str, str]:
        """The environment of this stage alone."""
        own = {f"XDG_{name}_HOME": str(self.folder / name.lower()) for name in ("STATE", "CACHE", "DATA")}
        return {**os.environ, **own, "PYTHONPATH": str(SOURCE), "TZ": "UTC"}

    @property
    def cellar(self) -> Path:
        """The cellar's folder."""
        return self.folder / "cellar"

    def mustwatch(self, *words: str) -> subprocess.CompletedProcess[str]:
        """Runs one command on the cellar."""
        return subprocess.run([sys.executable, "-m", "mustwatch", "--cellar", str(self.cellar), *words],
                              env=self.env, capture_output=True, text=True, timeout=120)  # fmt: skip

    def make(self, settings: str) -> None:
        """A cellar with these settings."""
        assert self.mustwatch("init").returncode == 0
        (self.cellar / "cellar.toml").write_text(settings)

    def start_broker(self) -> None:
        """Starts the broker and waits until it listens."""
        config = self.folder / "broker.conf"
        config.write_text(
            f"listener {self.port} 127.0.0.1\n{self.more or 'allow_anonymous true'}\npersistence true\n"
            f"persistence_location {self.folder}/\n"
            f"max_queued_messages 0\nuser root\nlog_dest none\n"
        )
        self.broker = subprocess.Popen([str(mosquitto()), "-c", str(config)], stderr=subprocess.DEVNULL)
        for _ in range(100):
            with socket.socket() as one:
                if one.connect_ex(("127.0.0.1", self.port)) == 0:
                    return
            time.sleep(0.05)
        raise RuntimeError("the broker did not start")

    def stop_broker(self, how: int = signal.SIGTERM) -> None:
        """Stops the broker."""
        if self.broker:
            self.broker.send_signal(how)
            self.broker.wait(20)
            self.broker = None

    def start_listener(self) -> None:
        """Starts the listener."""
        log = (self.folder / "listen.log").open("ab")
        self.listener = subprocess.Popen(
            [sys.executable, "-m", "mustwatch", "--cellar", str(self.cellar), "listen"], env=self.env, stderr=log
        )
        log.close()

    def stop_listener(self, how: int = signal.SIGTERM) -> int:
        """Stops the listener; its exit status."""
        if self.listener is None:
            return 0
        self.listener.send_signal(how)
        status = self.listener.wait(20)
        self.listener = None
        return status

    def log(self) -> str:
        """What the listener said."""
        path = self.folder / "listen.log"
        return path.read_text() if path.exists() else ""

    def wait_for(self, words: str, seconds: float = 20) -> None:
        """Waits until the listener has said these words."""
        until = time.monotonic() + seconds
        while words not in self.log():
            assert time.monotonic() < until, f"{words!r} never came; it said: {self.log()}"
            time.sleep(0.05)

    def wait_for_value(self, probe: str, seconds: float = 30) -> None:
        """Waits until the listener shows a value of a probe."""
        until = time.monotonic() + seconds
        while not any(f'"{probe}"' in path.read_text() for path in self.folder.glob("state/**/live.json")):
            assert time.monotonic() < until, f"no value of {probe} came; it said: {self.log()}"
            time.sleep(0.05)

    def lines(self, kind: str = "read") -> list[dict]:
        """The ledger's lines of a kind that came of probes."""
        found = [json.loads(line) for path in (self.cellar / "events").glob("*.jsonl") for line in path.open()]
        return [line for line in found if line["kind"] == kind and "probe" in line]

    def waiting(self) -> Counter[str]:
        """How many values of each probe wait in the spool, not in the ledger yet."""
        last = {}
        for line in self.lines():
            at = datetime.fromisoformat(line["at"])
            last[line["probe"]] = max(at, last.get(line["probe"], at))
        found: Counter[str] = Counter()
        for spool in self.folder.glob("state/**/spool.jsonl"):
            for text in spool.read_text().splitlines():
                probe, at, _own, *values = json.loads(text)
                if values and (probe not in last or datetime.fromisoformat(at) > last[probe]):
                    found[probe] += 1
        return found


@contextmanager
def stage(folder: Path, **more) -> Iterator[Stage]:
    """A stage that is cleared at the end, whatever happens."""
    found = Stage(folder, **more)
    try:
        yield found
    finally:
        for each in (found.listener, found.broker):
            if each and each.poll() is None:
                each.kill()
                each.wait(20)


def settings(port: int, more: str = "", version: str = "5") -> str:
    """Four thermometers and a float, each with a topic of its own."""
    text = f'[feeds]\nevery_s = 1\n[feeds.broker]\nhost = "127.0.0.1"\nport = {port}\nversion = "{version}"\n{more}\n'
    for name in THERMOMETERS:
        bound = 'place = "cellar"' if name == "cellar-north" else 'batch = "fir"'
        text += f'[feeds.probes.{name}]\nsource = "mqtt"\ntopic = "t/{name}"\ntemperature = "c"\ntime = "at"\n{bound}\n'
    return text + (
        '[feeds.probes.float]\nsource = "mqtt"\ntopic = "t/float"\ngravity = "data.sg"\ntemperature = "data.temps[0]"\n'
        'time = "at"\nbatch = "fir"\nnoise_sg = 0.004\n'
    )


def message(probe: str, at: datetime, since: datetime, chance: random.Random) -> bytes:
    """What a probe would say: a day's swing and a sensor's noise, a ferment's fall for the float."""
    days = (at - since) / timedelta(days=1)
    swing = {"shelf": 1.5, "jug": 0.6, "cellar-north": 0.3, "window": 4.0}.get(probe, 0.6)
    celsius = round(20 + swing * cos(2 * pi * days) + chance.gauss(0, 0.06), 4)
    stamp = at.isoformat()
    if probe != "float":
        return json.dumps({"c": celsius, "at": stamp}).encode()
    gravity = 1.000 + 0.092 * exp(-days / 6) + chance.gauss(0, 0.0015)
    return json.dumps({"at": stamp, "data": {"sg": round(gravity, 5), "temps": [celsius]}}).encode()


class Publisher:
    """Sends with acknowledgement, and again after a loss, as a device does that keeps what was not acknowledged."""

    def __init__(self, port: int) -> None:
        import paho.mqtt.client as mqtt

        self.acknowledged = 0
        self.client = mqtt.Client(mqtt.CallbackAPIVersion.VERSION2, client_id="devices", clean_session=False)
        self.client.max_inflight_messages_set(20)
        self.client.reconnect_delay_set(1, 1)
        self.client.on_publish = self._acknowledged
        self.client.connect("127.0.0.1", port)
        self.client.loop_start()

    def _acknowledged(self, *_: object) -> None:
        self.acknowledged += 1

    def send(self, topic: str, payload: bytes) -> None:
        """One message; kept until acknowledged."""
        self.client.publish(topic, payload, qos=1)

    def close(self) -> None:
        """Ends the connection."""
        self.client.disconnect()
        self.client.loop_stop()


def play(where: Stage, days: float, speed: float, kills: int, seed: int = 1) -> dict:
    """Plays so many days; the counts of what was sent, acknowledged, written and waits."""
    chance = random.Random(seed)
    minutes = int(days * 1440)
    since = datetime.now(UTC).replace(microsecond=0) - timedelta(days=days, hours=1)
    where.make(settings(where.port, version=where.version))
    where.start_broker()
    where.start_listener()
    where.wait_for("connected")
    devices = Publisher(where.port)
    marks = sorted(chance.sample(range(minutes // 20, minutes - 1), kills))
    began, sent = time.monotonic(), Counter()
    for minute in range(minutes):
        at = since + minute * MINUTE
        for probe in (*THERMOMETERS, "float"):
            devices.send(f"t/{probe}", message(probe, at, since, chance))
            sent[probe] += 1
        if marks and minute >= marks[0]:
            marks.pop(0)
            if chance.random() < 0.6:
                where.stop_listener(signal.SIGKILL)
                time.sleep(chance.random())
                where.start_listener()
            else:
                where.stop_broker()
                time.sleep(chance.random())
                where.start_broker()
        ahead = (minute + 1) * 60 / speed - (time.monotonic() - began)
        if ahead > 0:
            time.sleep(ahead)
    total = sum(sent.values())
    _until(lambda: devices.acknowledged >= total, 120)
    _until(lambda: _counted(where) >= total, 120)
    time.sleep(2)
    devices.close()
    status = where.stop_listener()
    where.stop_broker()
    written = Counter()
    for line in where.lines():
        written[line["probe"]] += line["n"]
    sizes = Counter()
    for path in (where.cellar / "events").glob("*.jsonl"):
        for text in path.open("rb"):
            sizes[json.loads(text).get("probe", "")] += len(text)
    return {
        "status": status, "sent": dict(sent), "acknowledged": devices.acknowledged, "written": dict(written),
        "waiting": dict(where.waiting()), "lines": dict(Counter(line["probe"] for line in where.lines())),
        "bytes_a_year": {probe: round(size / days * 365) for probe, size in sizes.items()},
    }  # fmt: skip


def _counted(where: Stage) -> int:
    return sum(line["n"] for line in where.lines()) + sum(where.waiting().values())


def _until(true, seconds: float) -> None:
    end = time.monotonic() + seconds
    while not true() and time.monotonic() < end:
        time.sleep(0.5)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place, stage(Path(place)) as where:
        found = play(where, float(sys.argv[1]), float(sys.argv[2]), int((sys.argv[3:] or ["10"])[0]))
        print(json.dumps(found, indent=1))
        lost = {p: found["sent"][p] - found["written"].get(p, 0) - found["waiting"].get(p, 0) for p in found["sent"]}
        print("lost (negative: doubled):", lost)
        shutil.copy(where.folder / "listen.log", "/tmp/listen.log") if os.environ.get("KEEP_LOG") else None
        sys.exit(any(lost.values()))
