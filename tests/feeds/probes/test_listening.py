"""The listener with a real broker on the loopback address: kills, restarts, passwords, TLS, what it publishes."""

from __future__ import annotations

import json
import shutil
import signal
import subprocess
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from feeds.probes.play import Stage, mosquitto, play, settings, stage

pytestmark = [
    pytest.mark.skipif(mosquitto() is None, reason="needs mosquitto"),
    pytest.mark.timeout(300),
]
paho = pytest.importorskip("paho.mqtt.client")
pytest.importorskip("aiomqtt")
ID = "28-0123456789ab"


def bus(folder: Path, celsius: float) -> str:
    """A 1-wire bus in a folder, with one sensor."""
    (folder / "w1" / ID).mkdir(parents=True, exist_ok=True)
    (folder / "w1" / ID / "w1_slave").write_text(f"50 05 : crc=1c YES\n50 05 t={round(celsius * 1000)}\n")
    return (
        f'[feeds]\nevery_s = 1\n[feeds.probes.wire]\nsource = "w1"\nid = "{ID}"\nroot = "{folder / "w1"}"\n'
        'batch = "fir"\naverage_min = 1\n'
    )


def seen(where: Stage, topic: str, seconds: float = 20, **login) -> str:
    """The next message on a topic."""
    got: list[str] = []
    client = paho.Client(paho.CallbackAPIVersion.VERSION2)
    client.on_message = lambda _c, _u, message: got.append(message.payload.decode())
    client.on_connect = lambda *_: client.subscribe(topic, 1)
    client.connect("127.0.0.1", where.port)
    client.loop_start()
    until = time.monotonic() + seconds
    while not got and time.monotonic() < until:
        time.sleep(0.05)
    client.disconnect()
    client.loop_stop()
    assert got, f"nothing on {topic}; the listener said: {where.log()}"
    return got[-1]


@pytest.mark.parametrize("version", ["5", "3.1.1"])
def test_nothing_acknowledged_is_lost_and_nothing_doubled(tmp_path, version):
    """Hours of five probes in seconds, broker restarted and listener killed at random. `play.py` plays the month."""
    with stage(tmp_path, version=version) as where:
        found = play(where, days=0.15, speed=2000, kills=3, seed=5)
    counted = {probe: found["written"].get(probe, 0) + found["waiting"].get(probe, 0) for probe in found["sent"]}
    assert counted == found["sent"]
    assert found["status"] == 0


def test_it_stops_at_once_when_told(tmp_path):
    """SIGTERM and SIGINT end it with status 0, nothing left running, nothing lost."""
    with stage(tmp_path) as where:
        where.make(settings(where.port))
        where.start_broker()
        for number in (signal.SIGTERM, signal.SIGINT):
            (tmp_path / "listen.log").unlink(missing_ok=True)
            where.start_listener()
            where.wait_for("connected")
            began = time.monotonic()
            assert where.stop_listener(number) == 0
            assert time.monotonic() - began < 5
        assert "Traceback" not in where.log()


def test_a_change_of_the_settings_is_taken_up_and_a_broken_file_is_not(tmp_path):
    """A probe that is added is heard without a new start; of a file that is broken, the old plan goes on."""
    second = bus(tmp_path, 19.0).partition("[feeds.probes.wire]\n")[2].replace('batch = "fir"', 'place = "loft"')
    with stage(tmp_path) as where:
        where.make(bus(tmp_path, 19.0))
        where.start_listener()
        where.wait_for_value("wire")
        file = where.cellar / "cellar.toml"
        kept = file.read_text()
        file.write_text(f"{kept}\n<<<<<<< here\n")
        where.wait_for("what was listened to before goes on")
        file.write_text(f"{kept}\n[feeds.probes.second]\n{second}")
        where.wait_for("listening as it says now")
        where.wait_for_value("second")
        assert where.stop_listener() == 0
        assert "Traceback" not in where.log()


def test_a_lost_broker_is_said_once(tmp_path):
    """Not at each try."""
    with stage(tmp_path) as where:
        where.make(settings(where.port))
        where.start_broker()
        where.start_listener()
        where.wait_for("connected")
        where.stop_broker()
        where.wait_for("lost")
        time.sleep(4)
        where.start_broker()
        where.wait_for("back")
        assert where.log().count("lost") == 1


def test_a_password_is_kept_in_a_file_and_never_said(tmp_path):
    """Right, it is let in; wrong, it is said without the word; readable by others, it is refused."""
    if not (tool := shutil.which("mosquitto_passwd")):
        pytest.skip("needs mosquitto_passwd")
    subprocess.run([tool, "-c", "-b", str(tmp_path / "users"), "cellar", "right-word"], check=True)
    secret = tmp_path / "secret"
    secret.write_text("right-word\n")
    secret.chmod(0o600)
    more = f'user = "cellar"\npassword_file = "{secret}"'
    with stage(tmp_path, more=f"allow_anonymous false\npassword_file {tmp_path / 'users'}") as where:
        where.make(settings(where.port, more))
        where.start_broker()
        where.start_listener()
        where.wait_for("connected")
        where.stop_listener()
        secret.write_text("wrong-word\n")
        where.start_listener()
        where.wait_for("Not authorized")
        assert where.stop_listener() == 0
        secret.chmod(0o644)
        ran = where.mustwatch("listen")
        assert ran.returncode == 2 and "chmod 600" in ran.stderr
        assert "word" not in where.log().replace("password", "")


def test_a_brokers_certificate_is_looked_at(tmp_path):
    """Of the named authority it is believed; of nobody known it is not."""
    if not (openssl := shutil.which("openssl")):
        pytest.skip("needs openssl")
    subprocess.run(
        [openssl, "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=localhost",
         "-addext", "subjectAltName=IP:127.0.0.1", "-keyout", str(tmp_path / "key"), "-out", str(tmp_path / "cert")],
        check=True, capture_output=True,
    )  # fmt: skip
    served = f"allow_anonymous true\ncertfile {tmp_path / 'cert'}\nkeyfile {tmp_path / 'key'}"
    with stage(tmp_path, more=served) as where:
        where.make(settings(where.port, f'tls = true\nca_file = "{tmp_path / "cert"}"'))
        where.start_broker()
        where.start_listener()
        where.wait_for("connected")
        where.stop_listener()
        (where.cellar / "cellar.toml").write_text(settings(where.port, "tls = true"))
        where.start_listener()
        where.wait_for("CERTIFICATE_VERIFY_FAILED", 30)


def test_the_bus_is_read_and_a_lost_sensor_becomes_a_finding(tmp_path):
    """Without a broker, and without its library."""
    with stage(tmp_path) as where:
        where.make(bus(tmp_path, 20.5))
        assert "wire  fir  20.5" in where.mustwatch("listen", "--once").stdout
        where.start_listener()
        time.sleep(4)
        shutil.rmtree(tmp_path / "w1" / ID)
        where.wait_for("probe wire: lost", 30)
        assert where.stop_listener() == 0
        assert [line["state"] for line in where.lines("probed")] == ["lost"]


def test_each_batchs_state_is_published_and_kept(tmp_path):
    """Off unless asked for; a screen that comes later sees it; that the listener is gone is told by the broker."""
    with stage(tmp_path) as where:
        where.make(settings(where.port) + '[feeds.publish]\nprefix = "mead"\n')
        at = (datetime.now(UTC) - timedelta(hours=1)).isoformat(timespec="seconds")
        where.mustwatch("begin", "fir", "--honey", "1.3 kg", "--volume", "4.5 l", "--at", at)
        where.start_broker()
        where.start_listener()
        where.wait_for("connected")
        told = json.loads(seen(where, "mead/fir", 60))
        assert told["batch"] == "fir" and told["stage"] == "must" and told["worst"] is None
        assert seen(where, "mead/listen") == "online"
        where.stop_listener(signal.SIGKILL)
        until = time.monotonic() + 20
        while seen(where, "mead/listen") != "offline":
            assert time.monotonic() < until


def test_two_listeners_do_not_write_for_one_cellar(tmp_path):
    """The second says so and ends."""
    with stage(tmp_path) as where:
        where.make(bus(tmp_path, 20.5))
        where.start_listener()
        time.sleep(2)
        ran = where.mustwatch("listen")
        assert ran.returncode == 2 and "another `listen`" in ran.stderr


def test_it_is_small(tmp_path):
    """Under 60 MiB. What it takes of a core is measured by `tests/bench/bench_listen.py`."""
    with stage(tmp_path) as where:
        where.make(settings(where.port))
        where.start_broker()
        where.start_listener()
        where.wait_for("connected")
        status = Path(f"/proc/{where.listener.pid}/status").read_text()
        resident_kib = int(next(line for line in status.splitlines() if line.startswith("VmRSS")).split()[1])
        assert resident_kib < 60 * 1024
