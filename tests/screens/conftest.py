"""The screens' tests keep their state and cache to themselves."""

import pytest


@pytest.fixture(autouse=True)
def own_state(tmp_path, monkeypatch):
    """Nothing of the user's own is read or written."""
    for name in ("STATE", "CACHE", "DATA"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    for name in ("NO_COLOR", "MUSTWATCH_ASCII", "TERM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LC_ALL", "C.UTF-8")
