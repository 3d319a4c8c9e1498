"""The cellar as a git repository: which lines are only here, and which are only on this machine."""

from __future__ import annotations

import os
import subprocess
from dataclasses import dataclass
from pathlib import Path

WITHIN_S = 20
# Nobody is asked anything, and nothing of the repository's is run.
QUIETLY = {"GIT_TERMINAL_PROMPT": "0", "GIT_OPTIONAL_LOCKS": "0", "LC_ALL": "C"}
PLAIN = ("-c", "core.fsmonitor=false", "-c", "core.hooksPath=/dev/null", "-c", "diff.external=")


@dataclass(frozen=True, slots=True)
class Repository:
    """Lines of events not committed, and committed lines not pushed; upstream: where to, None where nowhere is set."""

    uncommitted: int
    unpushed: int
    upstream: str | None

    @property
    def says(self) -> str:
        """One line on it."""
        there = f"{self.unpushed} not pushed to {self.upstream}" if self.upstream else "no place to push to is set"
        return f"git: {self.uncommitted} lines not committed, {there}"


def repository(cellar: Path) -> Repository | None:
    """What git knows of the events of a cellar; None where it is no repository, or git is not there."""
    cellar = cellar.resolve()
    if not any((folder / ".git").exists() for folder in (cellar, *cellar.parents)):
        return None
    if _git(cellar, "rev-parse", "--is-inside-work-tree") is None:
        return None
    upstream = (_git(cellar, "rev-parse", "--abbrev-ref", "--symbolic-full-name", "@{upstream}") or "").strip() or None
    unpushed = _added(_git(cellar, "diff", "--numstat", "@{upstream}...HEAD", "--", "events")) if upstream else 0
    return Repository(_uncommitted(cellar), unpushed, upstream)


def _uncommitted(cellar: Path) -> int:
    changed = _git(cellar, "diff", "--numstat", "HEAD", "--", "events")
    listed = ["ls-files", "-z", "--others"] if changed is not None else ["ls-files", "-z", "--others", "--cached"]
    new = (_git(cellar, *listed, "--exclude-standard", "--", "events") or "").split("\0")
    return _added(changed) + sum(_lines(cellar / name) for name in new if name)


def _added(numstat: str | None) -> int:
    """The lines added, of `git diff --numstat`: added, removed, name."""
    counts = [line.split("\t", 1)[0] for line in (numstat or "").splitlines()]
    return sum(int(count) for count in counts if count.isdigit())


def _lines(path: Path) -> int:
    try:
        with path.open("rb") as file:
            return sum(1 for _ in file)
    except OSError:
        return 0


def _git(cellar: Path, *words: str) -> str | None:
    """What git answers; None where it refuses, hangs or is not there."""
    try:
        ran = subprocess.run(["git", *PLAIN, "-C", str(cellar), *words], capture_output=True, text=True, check=False,
                             timeout=WITHIN_S, env={**os.environ, **QUIETLY}, stdin=subprocess.DEVNULL)  # fmt: skip
    except (OSError, subprocess.TimeoutExpired):
        return None
    return ran.stdout if ran.returncode == 0 else None
