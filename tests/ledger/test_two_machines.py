"""Two machines, edited apart and brought together: both ends tell the same story, nothing lost or doubled."""

import os
import random
import shutil
import subprocess
from datetime import timedelta

import pytest
from ledger.conftest import NOON, Place

from mustwatch.ledger.codec import encode
from mustwatch.ledger.drafts import draft

ROUNDS = 10


class Pair:
    """Two places on two machines, and what was written on either."""

    def __init__(self, home: Place, shed: Place) -> None:
        self.places = (home, shed)
        self.written: dict[str, str] = {}
        self.random = random.Random(20)

    def edit(self, number: int) -> None:
        """A few events on each side; the shed's clock is five minutes slow, corrections cross over."""
        for side, place in enumerate(self.places):
            now = NOON + timedelta(hours=number) - timedelta(minutes=5 * side)
            for count in range(self.random.randrange(1, 4)):
                text = f"round {number} side {side} event {count}"
                event = place.ledger.append([draft("noted", now, note=text)], now)[0]
                self.written[event.id] = text
            if self.random.random() < 0.5:
                target = self.random.choice([*self.written])
                event = place.ledger.append([draft("withdrew", now, target=target)], now)[0]
                self.written[event.id] = target

    def same(self) -> None:
        """Both read the same events in the same order: exactly what was written."""
        stories = [place.again().read() for place in self.places]
        first, second = ([encode(event) for event in story.events] for story in stories)
        assert first == second
        told = {e.id: e.note or e.target for e in stories[0].events}
        assert told == self.written and len(stories[0].events) == len(self.written)
        assert stories[0].troubles == stories[1].troubles == ()
        assert all(place.again().health(NOON + timedelta(days=30)).sound for place in self.places)


def git(where, *words):
    """Run git with nobody's settings but these."""
    env = {
        "PATH": os.environ["PATH"],
        "HOME": str(where),
        "GIT_CONFIG_NOSYSTEM": "1",
        "GIT_CONFIG_COUNT": "5",
        "GIT_CONFIG_KEY_0": "user.name", "GIT_CONFIG_VALUE_0": "tester",
        "GIT_CONFIG_KEY_1": "user.email", "GIT_CONFIG_VALUE_1": "tester@example.org",
        "GIT_CONFIG_KEY_2": "core.autocrlf", "GIT_CONFIG_VALUE_2": "true",
        "GIT_CONFIG_KEY_3": "pull.rebase", "GIT_CONFIG_VALUE_3": "false",
        "GIT_CONFIG_KEY_4": "init.defaultBranch", "GIT_CONFIG_VALUE_4": "main",
    }  # fmt: skip
    subprocess.run(["git", "-C", str(where), *words], check=True, capture_output=True, env=env, timeout=60)


@pytest.mark.skipif(shutil.which("git") is None, reason="needs git")
def test_ten_rounds_merged_by_git(tmp_path):
    """With the .gitattributes that `init` wrote, and line-end conversion switched on to spite it."""
    home = Place(tmp_path, "home")
    git(home.cellar, "init", "-q")
    git(home.cellar, "add", ".")
    git(home.cellar, "commit", "-q", "-m", "begin")
    subprocess.run(["git", "init", "-q", "--bare", str(tmp_path / "hub")], check=True, capture_output=True)
    git(home.cellar, "remote", "add", "origin", str(tmp_path / "hub"))
    git(home.cellar, "push", "-q", "-u", "origin", "HEAD:main")
    git(home.cellar, "branch", "-q", "--set-upstream-to=origin/main")
    git(tmp_path, "clone", "-q", "-b", "main", str(tmp_path / "hub"), "shed")
    (tmp_path / "shed" / "events").mkdir(exist_ok=True)
    pair = Pair(home, Place(tmp_path, "shed", machine="shed"))
    for number in range(ROUNDS):
        pair.edit(number)
        for place in pair.places:
            git(place.cellar, "add", "-A")
            git(place.cellar, "commit", "-q", "-m", f"round {number}")
        for place in (*pair.places, pair.places[0]):
            git(place.cellar, "pull", "-q", "--no-edit", "origin", "main")
            git(place.cellar, "push", "-q", "origin", "HEAD:main")
        pair.same()
    assert all(len(place.files()) == 2 for place in pair.places)


def copied(source, target):
    """What a plain folder sync does: newer or missing files are copied, nothing is deleted."""
    for path in sorted((source / "events").glob("*.jsonl")):
        twin = target / "events" / path.name
        if not twin.exists() or twin.stat().st_mtime_ns < path.stat().st_mtime_ns:
            shutil.copy2(path, twin)


def test_ten_rounds_by_plain_folder_copies_in_both_directions(tmp_path):
    """No tool knows the format; newest file wins, and that is enough."""
    home = Place(tmp_path, "home")
    shutil.copytree(home.cellar, tmp_path / "shed")
    pair = Pair(home, Place(tmp_path, "shed", machine="shed"))
    for number in range(ROUNDS):
        pair.edit(number)
        ways = [(0, 1), (1, 0)]
        pair.random.shuffle(ways)
        for here, there in ways:
            copied(pair.places[here].cellar, pair.places[there].cellar)
        pair.same()
    assert all(len(place.files()) == 2 for place in pair.places)


def test_one_machine_set_back_in_the_middle_loses_nothing_of_the_other(tmp_path):
    """The shed is restored from an old copy, goes on, and is brought together again."""
    home = Place(tmp_path, "home")
    shutil.copytree(home.cellar, tmp_path / "shed")
    pair = Pair(home, Place(tmp_path, "shed", machine="shed"))
    pair.edit(0)
    shutil.copytree(tmp_path / "shed", tmp_path / "old copy")
    pair.edit(1)
    copied(pair.places[1].cellar, home.cellar)
    shutil.rmtree(tmp_path / "shed")
    shutil.copytree(tmp_path / "old copy", tmp_path / "shed")
    shed = pair.places[1]
    shed.ledger = shed.again()
    pair.edit(2)
    for here, there in ((0, 1), (1, 0)):
        source, target = pair.places[here].cellar, pair.places[there].cellar
        for path in (source / "events").glob("*.jsonl"):
            twin = target / "events" / path.name
            if not twin.exists() or twin.stat().st_size < path.stat().st_size:
                shutil.copy2(path, twin)
    pair.same()
