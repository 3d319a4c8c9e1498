"""A cellar of one's own for each test, and the command line run in this process."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from mustwatch.__main__ import main


@dataclass(frozen=True)
class Ran:
    """What a command answered."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """Standard output as the one JSON document it must be."""
        return json.loads(self.out)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder that holds cellar, state and cache of this test alone."""
    for name in ("XDG_STATE_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name.lower()))
    monkeypatch.setenv("MUSTWATCH_CELLAR", str(tmp_path / "cellar"))
    monkeypatch.setenv("LC_ALL", "C.UTF-8")
    for name in ("MUSTWATCH_ASCII", "TERM"):
        monkeypatch.delenv(name, raising=False)
    return tmp_path


@pytest.fixture
def run(home: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., Ran]:
    """Runs one command line; a refusal by the argument parser counts as its exit status."""

    def command(*words: str) -> Ran:
        capsys.readouterr()
        try:
            status = main(list(words))
        except SystemExit as ended:
            status = int(ended.code or 0)
        out, err = capsys.readouterr()
        assert "Traceback" not in err
        return Ran(status, out, err)

    return command


@pytest.fixture
def fir(run: Callable[..., Ran]) -> Callable[..., Ran]:
    """A cellar with one young batch, fir, under an airlock; gives the runner."""
    for words in (
        ["init"],
        [
            "begin",
            "fir",
            "--honey",
            "1.3 kg fir honey",
            "--volume",
            "4.5 l",
            "--vessel",
            "jug 5 l",
            "--at",
            "2026-03-01 10:00",
        ],
        ["log", "fir", "1.092", "20C", "@2026-03-01", "10:30"],
        ["pitch", "fir", "--class", "ale", "--tolerance", "12", "--at", "2026-03-01 11:00"],
        ["close", "fir", "airlock", "--at", "2026-03-01 11:05"],
    ):
        ran = run(*words)
        assert ran.status == 0, ran.err
    return run
