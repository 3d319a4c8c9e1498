"""Where the program keeps its own: where platformdirs would have it, without loading that."""

from __future__ import annotations

import sys

import platformdirs
import pytest

from mustwatch.ledger.places import data_folder, state_folder


@pytest.mark.parametrize("given", ["", "/elsewhere/kept", "not/absolute", "/with a blank/"])
def test_folders_are_those_that_platformdirs_names(given: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who updates must find his cellar, and the name of this machine in it, where they were."""
    monkeypatch.setenv("XDG_STATE_HOME", given)
    monkeypatch.setenv("XDG_DATA_HOME", given)
    assert state_folder() == platformdirs.user_state_path("mustwatch", appauthor=False)
    assert data_folder() == platformdirs.user_data_path("mustwatch")


def test_other_systems_are_asked_of_platformdirs(monkeypatch: pytest.MonkeyPatch) -> None:
    """Their folders follow other rules than the specification's."""
    monkeypatch.setattr(sys, "platform", "elsewhere")
    monkeypatch.setattr(platformdirs, "user_state_path", lambda name, appauthor: f"{name} there")
    assert state_folder() == "mustwatch there"
