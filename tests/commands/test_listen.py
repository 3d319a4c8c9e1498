"""`listen --unit`: what it writes, and what it tells one to start."""

from __future__ import annotations

WIRE = '\n[feeds.probes.wire]\nsource = "w1"\nid = "28-0123456789ab"\nplace = "loft"\n'


def test_the_timer_is_not_started_before_a_channel_is_named(run, home, tmp_path):
    """A check that has nowhere to send to would fail each hour."""
    run("init")
    file = home / "cellar" / "cellar.toml"
    file.write_text(file.read_text() + WIRE)
    told = run("listen", "--unit", "user", "--to", str(tmp_path / "units"))
    assert told.status == 0
    assert "enable --now mustwatch-listen.service\n" in told.out
    assert "name feeds.notify.urls_file in cellar.toml" in told.out
    file.write_text(file.read_text() + f'\n[feeds.notify]\nurls_file = "{tmp_path / "urls"}"\n')
    told = run("listen", "--unit", "user", "--to", str(tmp_path / "units"))
    assert "enable --now mustwatch-listen.service mustwatch-check.timer\n" in told.out
    assert "urls_file" not in told.out
    assert sorted(path.name for path in (tmp_path / "units").iterdir()) == [
        "mustwatch-check.service", "mustwatch-check.timer", "mustwatch-listen.service",
    ]  # fmt: skip
