"""`check --send` as a user meets it: what goes out, what is said, what is not."""

from __future__ import annotations

import pytest
from feeds.notify.servers import http_server

SECRET = "s3cr3t-t0k3n"


@pytest.fixture
def warned(fir, home, monkeypatch):
    """A cellar with something to see to, and channels named in a file of its owner's."""
    pytest.importorskip("apprise")

    def with_channels(*urls: str):
        (home / "urls").write_text("\n".join(urls))
        (home / "urls").chmod(0o600)
        (home / "cellar" / "cellar.toml").write_text(f'[feeds.notify]\nurls_file = "{home / "urls"}"\n')
        return fir

    return with_channels


def test_new_findings_are_sent_once(warned) -> None:
    """And the status is that of the findings."""
    with http_server() as (port, posted):
        run = warned(f"json://127.0.0.1:{port}/{SECRET}")
        first, second = run("check", "--send"), run("check", "--send", "--json")
    assert first.status == second.status and len(posted) == 1
    assert second.json["sent"] == [{"channel": "1 (json)", "what": "nothing", "failing_since": None}]
    assert SECRET not in first.out + first.err + second.out + second.err


def test_a_hole_in_the_record_is_sent_too(warned, home) -> None:
    """A file that lost its lines hides dangers: silence of the channels would be the worst answer."""
    with http_server() as (port, posted):
        run = warned(f"json://127.0.0.1:{port}/{SECRET}")
        run("check", "--send")
        (file,) = (home / "cellar" / "events").glob("*.jsonl")
        file.write_bytes(b"".join(file.read_bytes().splitlines(True)[:2]))
        run("check", "--send")
        run("check", "--send")
    assert len(posted) == 2 and file.name in posted[1]["message"] and "TODAY record" in posted[1]["message"]


def test_a_failing_channel_is_status_three_and_said_once(warned) -> None:
    """By its place and sort, without its address."""
    with http_server(status=500) as (port, _):
        run = warned(f"json://127.0.0.1:{port}/{SECRET}")
        first, second = run("check", "--send"), run("check", "--send")
    assert first.status == second.status == 3
    assert "channel 1 (json)" in first.err and "channel" not in second.err
    assert SECRET not in first.err and str(port) not in first.err


def test_what_cannot_be_sent_is_one_line(fir, home, monkeypatch) -> None:
    """No channel named, a secret in the settings, a look back."""
    monkeypatch.delenv("MUSTWATCH_NOTIFY", raising=False)
    assert fir("check", "--send").status == 2
    (home / "cellar" / "cellar.toml").write_text(f'[feeds.notify]\nurl = "json://{SECRET}"\n')
    ran = fir("check", "--send")
    assert ran.status == 2 and "no secret belongs" in ran.err
    assert SECRET not in ran.err
    assert fir("--now", "2026-03-05T12:00:00Z", "check", "--send").status == 2


def test_a_check_without_send_loads_no_extra(fir) -> None:
    """Extras are imported only by the commands that need them."""
    import subprocess
    import sys

    code = (
        "import sys\nfrom mustwatch.__main__ import main\nmain(['check'])\nmain(['log', 'fir', '1.05'])\n"
        "assert not {'apprise', 'aiomqtt', 'paho', 'openpyxl', 'odfdo', 'asyncio'} & set(sys.modules)\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert ran.returncode == 0, ran.stderr
