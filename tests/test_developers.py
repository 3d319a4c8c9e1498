"""The page for developers, followed to the letter: the rule it shows is written, told its stories and asked."""

from __future__ import annotations

import importlib.util
import re
import textwrap
from pathlib import Path
from types import ModuleType

import pytest
from rules.scenario import KINDS_OF_STORY, Story, read_stories

from mustwatch.rules import page

PAGE = (Path(__file__).parent.parent / "DEVELOPERS.md").read_text("utf-8")
SHOWN = PAGE[PAGE.index("## Add a rule") :]
RULE_TEXT, STORIES_TEXT = (
    textwrap.dedent(block) for block in re.findall(r"^   ```(?:python)?\n(.*?)^   ```$", SHOWN, re.M | re.S)[:2]
)
STORIES = read_stories("blue-room", STORIES_TEXT)


@pytest.fixture
def blue_room(tmp_path: Path) -> ModuleType:
    """The rule of the page, as a file of its own."""
    path = tmp_path / "blue_room.py"
    path.write_text(RULE_TEXT, encoding="utf-8")
    made = importlib.util.spec_from_file_location("blue_room", path)
    assert made is not None and made.loader is not None
    module = importlib.util.module_from_spec(made)
    made.loader.exec_module(module)
    return module


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
