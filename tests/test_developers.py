"""The page for developers, followed to the letter: the act it shows is done, the rule is told its stories and asked."""

from __future__ import annotations

import importlib.util
import re
import sys
import textwrap
from pathlib import Path
from types import ModuleType

import pytest
from rules.scenario import KINDS_OF_STORY, Story, read_stories
from screens.small_cellar import NOW, batch, made, recorded

from mustwatch import __main__ as program
from mustwatch.cellar.fold import fold
from mustwatch.commands.parser import COMMANDS
from mustwatch.deeds.catalogue import DEEDS, deed_named
from mustwatch.deeds.deed import understood
from mustwatch.deeds.ground import Ground
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.store import Ledger
from mustwatch.rules import page

PAGE = (Path(__file__).parent.parent / "DEVELOPERS.md").read_text("utf-8")
SHOWN = PAGE[PAGE.index("## Add a rule") :]
RULE_TEXT, STORIES_TEXT = (
    textwrap.dedent(block) for block in re.findall(r"^   ```(?:python)?\n(.*?)^   ```$", SHOWN, re.M | re.S)[:2]
)
STORIES = read_stories("blue-room", STORIES_TEXT)
ACT_TEXT = textwrap.dedent(
    re.findall(r"^   ```python\n(.*?)^   ```$", PAGE[PAGE.index("## Add an act") :], re.M | re.S)[0]
)


def _written(path: Path, text: str) -> ModuleType:
    """What the page shows, as a file of its own."""
    path.write_text(text, encoding="utf-8")
    made = importlib.util.spec_from_file_location(path.stem, path)
    assert made is not None and made.loader is not None
    module = importlib.util.module_from_spec(made)
    made.loader.exec_module(module)
    return module


@pytest.fixture
def blue_room(tmp_path: Path) -> ModuleType:
    """The rule of the page."""
    return _written(tmp_path / "blue_room.py", RULE_TEXT)


def test_the_shown_act_is_a_command_and_a_form(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """One file and one line, as the text beside it says."""
    monkeypatch.setitem(sys.modules, "mustwatch.deeds.warmth", _written(tmp_path / "warmth.py", ACT_TEXT))
    monkeypatch.setitem(DEEDS, "warmth", "how warm it is")
    monkeypatch.setitem(COMMANDS, "warmth", ("act", "how warm it is"))
    cellar = made(tmp_path / "cellar", batch("fir", 9, [1.100, 1.090]))
    count = len(recorded(cellar, 0))
    monkeypatch.setattr(program, "_clock", lambda: NOW)
    assert program.main(["--cellar", str(cellar), "warmth", "fir", "66.2F", "--air", "17C"]) == 0
    (saved,) = recorded(cellar, count)
    assert (saved.kind, saved.must_c, saved.air_c, saved.model_extra) == ("read", 19.0, 17.0, {"typed": "66.2F"})
    ground = Ground("fir", fold(Ledger(cellar).read().events, Settings(), NOW), NOW, scaled=True)
    meant = understood(deed_named("warmth"), {"must": "19", "air": "17"}, ground)
    assert meant.words == ("read must 19 °C, air 17 °C",) and "never stir" in meant.cautions[0]


def test_the_shown_rule_has_its_page(blue_room: ModuleType):
    """Its docstring has the headings that `explain` prints."""
    assert page.page_of(blue_room).rule.name == "blue-room"


def test_the_shown_stories_are_of_every_sort():
    """As the text beside them asks for."""
    assert [story.sort for story in STORIES] == list(KINDS_OF_STORY)


@pytest.mark.parametrize("story", STORIES, ids=lambda story: story.sort)
def test_the_shown_rule_says_what_its_stories_expect(blue_room: ModuleType, story: Story):
    """A page that no longer holds would teach a mistake."""
    found = story.found(blue_room)
    assert [(finding.severity.word, finding.evidence) for finding in found] == story.expected
