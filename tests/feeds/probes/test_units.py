"""Units for systemd, held to systemd's own judgement where it is installed."""

from __future__ import annotations

import re
import shutil
import subprocess

import pytest

from mustwatch.feeds.probes.units import NAMES, Place, units

ANALYZE = shutil.which("systemd-analyze")
EXPOSED = 2.5  # of 10: what systemd calls OK begins below 5, the tighter services of a distribution lie near 2


def place(tmp_path, user: str | None = "root", net: bool = True) -> Place:
    command = ["/usr/bin/env", "python3", "-m", "mustwatch", "--cellar", "/home/me/my cellar"]
    return Place(command, ["/home/me/my cellar", "/home/me/.local/state/mustwatch"], ["/home/me/.venv"], user, net)


def test_only_the_cellar_and_its_state_can_be_written(tmp_path):
    """Home and system are closed; what must be read is bound read-only."""
    for name in NAMES[:2]:
        text = units(place(tmp_path))[name]
        assert 'BindPaths="/home/me/my cellar"\n' in text and "BindReadOnlyPaths=-/home/me/.venv\n" in text
        for line in ("NoNewPrivileges=yes", "ProtectSystem=strict", "ProtectHome=tmpfs", "UMask=0077"):
            assert f"{line}\n" in text


def test_without_a_broker_the_listener_has_no_network():
    """A wire needs none."""
    assert "PrivateNetwork=yes" in units(place(None, net=False))[NAMES[0]]
    assert "PrivateNetwork=yes" not in units(place(None, net=True))[NAMES[0]]


def test_signs_of_systemds_own_are_written_as_text():
    """A per cent sign in a path names nothing of systemd's."""
    odd = Place(["/x/50%/a$b", 'say "x"'], [], [], None, True)
    assert 'ExecStart=/x/50%%/a$$b "say \\"x\\"" listen' in units(odd)[NAMES[0]]


@pytest.mark.skipif(ANALYZE is None, reason="needs systemd-analyze")
@pytest.mark.parametrize("user", [None, "root"])
def test_systemd_finds_nothing_amiss_and_little_exposed(tmp_path, user):
    """`verify` is silent of these units, and `security` gives a low score."""
    for name, text in units(place(tmp_path, user)).items():
        (tmp_path / name).write_text(text)
    paths = [str(tmp_path / name) for name in NAMES]
    scope = [] if user else ["--user"]
    alone = {"XDG_RUNTIME_DIR": str(tmp_path), "HOME": str(tmp_path), "PATH": "/usr/bin:/bin"}
    words = [ANALYZE, *scope, "verify", *paths]
    ran = subprocess.run(words, capture_output=True, text=True, timeout=60, env=alone)
    assert not [line for line in ran.stderr.splitlines() if "mustwatch" in line], ran.stderr
    if user is None:
        return
    for path in paths[:2]:
        judged = subprocess.run(
            [ANALYZE, "security", "--offline=true", path], capture_output=True, text=True, timeout=60
        )
        found = re.search(r"exposure level for \S+: ([\d.]+)", judged.stdout)
        assert found, judged.stdout + judged.stderr
        assert float(found[1]) <= EXPOSED, judged.stdout
