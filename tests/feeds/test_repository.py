"""Two machines through real git and a bare repository over ssh, by the recipe as DEVELOPERS.md prints it."""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import time
from datetime import timedelta
from pathlib import Path

import pytest
from ledger.conftest import NOON, Place

from mustwatch.feeds.repository import repository
from mustwatch.ledger.drafts import draft

pytestmark = pytest.mark.skipif(shutil.which("git") is None, reason="needs git")
RECIPES = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text("utf-8")
SSHD = shutil.which("sshd", path="/usr/sbin:/usr/local/sbin:/usr/bin")


def recipe(name: str) -> str:
    """A block of DEVELOPERS.md by the mark above it."""
    found = re.search(rf"<!-- {name} -->\n```\w+\n(.*?)```", RECIPES, re.DOTALL)
    assert found, name
    return found[1]


@pytest.fixture
def env(tmp_path, monkeypatch) -> dict[str, str]:
    """Git with nobody's settings but these."""
    own = {
        "HOME": str(tmp_path), "GIT_CONFIG_NOSYSTEM": "1", "GIT_AUTHOR_NAME": "t", "GIT_AUTHOR_EMAIL": "t@example.org",
        "GIT_COMMITTER_NAME": "t", "GIT_COMMITTER_EMAIL": "t@example.org", "GIT_CONFIG_COUNT": "1",
        "GIT_CONFIG_KEY_0": "init.defaultBranch", "GIT_CONFIG_VALUE_0": "main",
    }  # fmt: skip
    for name, value in own.items():
        monkeypatch.setenv(name, value)
    return {**os.environ, **own}


def sh(text: str, where: Path, env: dict[str, str], **more: str) -> subprocess.CompletedProcess[str]:
    """Runs a shell script."""
    return subprocess.run(
        ["sh", "-euc", text], cwd=where, env={**env, **more}, capture_output=True, text=True, timeout=60
    )


def note(place: Place, text: str, hours: float = 0) -> None:
    now = NOON + timedelta(hours=hours)
    place.again().append([draft("noted", now, note=text)], now)


@pytest.fixture
def remote(tmp_path, env):
    """A bare repository behind an ssh server of this test alone, on the loopback address."""
    if SSHD is None or shutil.which("ssh-keygen") is None:
        pytest.skip("needs sshd")
    keys = tmp_path / "keys"
    keys.mkdir(mode=0o700)
    for name in ("host", "mine"):
        subprocess.run(["ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-f", str(keys / name)], check=True)
    (keys / "authorized").write_text((keys / "mine.pub").read_text())
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        port = one.getsockname()[1]
    (keys / "config").write_text(
        f"Port {port}\nListenAddress 127.0.0.1\nHostKey {keys / 'host'}\nAuthorizedKeysFile {keys / 'authorized'}\n"
        f"PidFile {keys / 'pid'}\nStrictModes no\nUsePAM no\nPasswordAuthentication no\nPermitRootLogin yes\n"
    )
    Path("/run/sshd").mkdir(exist_ok=True) if os.geteuid() == 0 else None
    server = subprocess.Popen([SSHD, "-D", "-f", str(keys / "config")], stderr=subprocess.DEVNULL)
    subprocess.run(["git", "init", "-q", "--bare", str(tmp_path / "hub.git")], check=True, env=env)
    known = f"[127.0.0.1]:{port} {(keys / 'host.pub').read_text()}"
    (keys / "known").write_text(known)
    env["GIT_SSH_COMMAND"] = (
        f"ssh -F /dev/null -i {keys / 'mine'} -o UserKnownHostsFile={keys / 'known'}"
        " -o IdentitiesOnly=yes -o BatchMode=yes"
    )
    os.environ["GIT_SSH_COMMAND"] = env["GIT_SSH_COMMAND"]
    for _ in range(100):
        with socket.socket() as one:
            if one.connect_ex(("127.0.0.1", port)) == 0:
                break
        time.sleep(0.05)
    try:
        user = subprocess.run(["id", "-un"], capture_output=True, text=True, check=True).stdout.strip()
        yield f"ssh://{user}@127.0.0.1:{port}{tmp_path / 'hub.git'}"
    finally:
        os.environ.pop("GIT_SSH_COMMAND", None)
        server.terminate()
        server.wait(10)


def test_the_recipe_brings_two_machines_together(tmp_path, env, remote):
    """Ten rounds of notes on both sides and the script on either; both tell the same, nothing lost or doubled."""
    home = Place(tmp_path, "home")
    note(home, "first")
    first = sh(recipe("first machine"), home.cellar, env, REMOTE=remote)
    assert first.returncode == 0, first.stderr
    assert sh('git clone -q "$REMOTE" shed', tmp_path, env, REMOTE=remote).returncode == 0
    shed = Place(tmp_path, "shed", machine="shed")
    script = tmp_path / "mustwatch-sync"
    script.write_text(recipe("sync script"))
    written = {"first"}
    for number in range(10):
        for place in (home, shed):
            written.add(f"{number} {place.cellar.name}")
            note(place, f"{number} {place.cellar.name}", hours=number)
        for place in (home, shed, home):
            ran = sh(f'sh "{script}" "{place.cellar}"', tmp_path, env)
            assert ran.returncode == 0, ran.stderr
    for place in (home, shed):
        story = place.again().read()
        assert sorted(event.note for event in story.events) == sorted(written)
        assert not story.troubles and place.again().health(NOON + timedelta(days=3)).sound
        assert repository(place.cellar).says.startswith("git: 0 lines not committed, 0 not pushed")


def test_lines_not_committed_and_not_pushed_are_counted(tmp_path, env, remote):
    """A new file counts whole, a grown one by what it grew."""
    home = Place(tmp_path, "home")
    note(home, "first")
    assert repository(home.cellar) is None
    sh("git init -q", home.cellar, env)
    assert repository(home.cellar).uncommitted == 1
    sh(recipe("first machine"), home.cellar, env, REMOTE=remote)
    note(home, "second", 1)
    note(home, "third", 2)
    found = repository(home.cellar)
    assert (found.uncommitted, found.unpushed, found.upstream) == (2, 0, "origin/main")
    sh("git commit -qam x", home.cellar, env)
    note(home, "fourth", 3)
    assert repository(home.cellar).says == "git: 1 lines not committed, 2 not pushed to origin/main"


def test_settings_changed_on_both_sides_wait_for_their_owner(tmp_path, env, remote):
    """The script ends with status 1, and nothing is half merged."""
    home = Place(tmp_path, "home")
    sh(recipe("first machine"), home.cellar, env, REMOTE=remote)
    sh('git clone -q "$REMOTE" shed', tmp_path, env, REMOTE=remote)
    script = tmp_path / "mustwatch-sync"
    script.write_text(recipe("sync script"))
    for name, status in (("home", 0), ("shed", 1)):
        (tmp_path / name / "cellar.toml").write_text(f'[cellar]\nname = "{name}"\n')
        assert sh(f'sh "{script}" "{tmp_path / name}"', tmp_path, env).returncode == status
    assert (tmp_path / "shed" / "cellar.toml").read_text() == '[cellar]\nname = "shed"\n'
    assert not (tmp_path / "shed" / ".git" / "MERGE_HEAD").exists()


@pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="needs systemd-analyze")
def test_the_units_of_the_recipe_hold(tmp_path):
    """Systemd has nothing to say of them but that the script is not there."""
    for ending in ("service", "timer"):
        (tmp_path / f"mustwatch-sync.{ending}").write_text(recipe(f"sync {ending}"))
    paths = [str(path) for path in tmp_path.glob("mustwatch-sync.*")]
    alone = {"XDG_RUNTIME_DIR": str(tmp_path), "HOME": str(tmp_path), "PATH": "/usr/bin:/bin"}
    words = ["systemd-analyze", "--user", "verify", *paths]
    ran = subprocess.run(words, capture_output=True, text=True, timeout=60, env=alone)
    told = [line for line in ran.stderr.splitlines() if "mustwatch" in line and "is not executable" not in line]
    assert told == []
