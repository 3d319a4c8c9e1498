"""What every rule owes: a page, a name that is its file's name, and four sorts of stories that hold."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from rules.scenario import KINDS_OF_STORY, STORIES, Story, stories_of

from mustwatch.rules import catalogue, page
from mustwatch.rules.evidence.vessel import too_much_air
from mustwatch.rules.finding import Finding, Severity

MODULES = {module.RULE.name: module for module in catalogue.RULES}
SENTENCES, MOST_WORDS = re.compile(r"(?<=[.?!]) (?=[A-Z0-9])"), 15
TOLD = [(story.rule, story) for name in MODULES for story in stories_of(name)]
IDS = [f"{rule}/{story.sort}: {story.title}" for rule, story in TOLD]
FOLDER = Path(catalogue.__file__).parent


@pytest.mark.parametrize("name", MODULES)
def test_a_rule_has_a_story_of_every_sort(name: str):
    """One that fires, a near miss, one with the needed fact missing, one with noise on the threshold."""
    told = {story.sort for story in stories_of(name)}
    assert told >= set(KINDS_OF_STORY), f"{STORIES.name}/{name}.txt lacks {set(KINDS_OF_STORY) - told}"


@pytest.mark.parametrize("name", MODULES)
def test_a_missing_fact_is_asked_for_or_is_what_makes_it_silent(name: str):
    """Silence alone shows nothing: such a story must be one that fires, with the fact taken out."""
    told = stories_of(name)
    missing = [story for story in told if story.sort == "missing"]
    firing = [story for story in told if story.sort == "fires"]
    asked = any(severity for story in missing for severity, _ in story.expected)
    assert asked or any(_is_less_of(silent, whole) for silent in missing for whole in firing)


def _is_less_of(silent: Story, whole: Story) -> bool:
    """Whether a story is the other one with words left out, looked at no earlier."""
    lines = [line.split() for line in whole.lines]
    own = [line.split() for line in silent.lines if not line.startswith("now ")]
    return silent.at >= whole.at and all(any(_among(words, line) for line in lines) for words in own)


def _among(words: list[str], line: list[str]) -> bool:
    rest = iter(line)
    return all(word in rest for word in words)


@pytest.mark.parametrize(("rule", "story"), TOLD, ids=IDS)
def test_a_story_says_what_it_should(rule: str, story: Story):
    """The findings at the story's end: severity, evidence, missing facts, words."""
    found = story.found(MODULES[rule])
    wanted = [(severity, evidence) for severity, evidence in story.expected if severity]
    assert [finding.severity.word for finding in found] == [severity for severity, _ in wanted]
    for finding, (_, evidence) in zip(found, wanted, strict=True):
        assert set(evidence) <= set(finding.evidence)
    missing = " ".join(part for finding in found for part in finding.missing)
    assert all(words in missing for words in story.missing), missing
    text = " ".join(_text(finding) for finding in found)
    assert all(words in text for words in story.words), text


@pytest.mark.parametrize(
    ("rule", "story"),
    [pair for pair in TOLD if pair[1].sort == "noise"],
    ids=[name for name in IDS if "/noise" in name],
)
def test_noise_on_the_threshold_does_not_make_a_rule_flicker(rule: str, story: Story):
    """Played moment by moment, what was left does not come back: it may rise or end once, never come and go."""
    played = [tuple(sorted(f.severity for f in story.found(MODULES[rule], now))) for now in story.times()]
    changes = [after for before, after in zip([None, *played], played, strict=False) if before != after]
    states = changes[1:] if changes[0] == () else changes
    assert len(states) == len(set(states)), states


@pytest.mark.parametrize(
    ("rule", "story"),
    [pair for pair in TOLD if pair[1].sort == "fires"],
    ids=[name for name in IDS if "/fires" in name],
)
def test_a_finding_tells_all_an_old_hand_would(rule: str, story: Story):
    """What was seen, why it matters, what to do and what would end it, in calm words; known only to its own rule."""
    found = story.found(MODULES[rule])
    assert found
    for finding in found:
        assert finding.rule == rule
        assert finding.severity <= MODULES[rule].RULE.severity
        assert finding.says and finding.why and finding.do and finding.clears_when
        assert {id_ for id_ in finding.evidence} <= {event.id for event in story.events}
        assert "!" not in _text(finding) and "None" not in _text(finding)
        assert finding.look_again is None or finding.look_again > story.at
        for sentence in (finding.says, finding.why, *finding.do):
            assert sentence[0].isupper() or sentence[0].isdigit(), sentence
            assert sentence.rstrip().endswith((".", "?")), sentence


QUAINT = re.compile(r"\b(woken|stands still|stand still|by glass|the glass's|led off)\b")


@pytest.mark.parametrize(("rule", "story"), TOLD, ids=IDS)
def test_a_step_is_short_and_plain(rule: str, story: Story):
    """A tired person reads it at a jug: at most fifteen words a sentence, one colon a line, the trade's words."""
    for finding in story.found(MODULES[rule]):
        for step in finding.do:
            assert [one for one in SENTENCES.split(step) if len(one.split()) > MOST_WORDS] == []
            assert len(re.findall(r":(?= )", step)) <= 1, step
            assert not QUAINT.search(" ".join((finding.says, *finding.do, finding.clears_when))), step


@pytest.mark.parametrize(("rule", "story"), TOLD, ids=IDS)
def test_recording_is_not_doing(rule: str, story: Story):
    """`clears when an airlock is recorded` reads as if the entry did it."""
    told = [finding.clears_when for finding in story.found(MODULES[rule])]
    assert not [text for text in told if re.search(r"\b(airlock|closure|tube|push|racking|move) is recorded", text)]


FORM_OF = {
    "close": r"\b(fit|put on|seal)\b",
    "rack": r"\bsiphon\b",
    "log": r"\bread\b",
    "end": r"\bdiscard\b",
    "pour-back": r"\bback\b",
}


@pytest.mark.parametrize(("rule", "story"), TOLD, ids=IDS)
def test_a_form_is_offered_only_for_a_step_that_is_written_down(rule: str, story: Story):
    """A danger's form is that of one of its steps; sulfite mends nothing that is in bottles."""
    batches = {tag: view.batch for tag, view in story.views().items()}
    for finding in story.found(MODULES[rule]):
        form, about = finding.action or ("", "")
        if finding.severity is Severity.DANGER and form:
            assert re.search(FORM_OF[form], " ".join(finding.do).lower()), finding.action
        if batches[finding.batch].stage_in_vessel is None:
            assert form != "add", finding.action
        if too_much_air(story.views()[finding.batch]):
            assert (form, about) != ("add", "sulfite")


@pytest.mark.parametrize("name", MODULES)
def test_a_rule_is_named_after_its_file(name: str):
    """File, rule and story are one word string; no codes."""
    assert MODULES[name].__name__.rsplit(".", 1)[1] == name.replace("-", "_")
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", name)


@pytest.mark.parametrize("name", MODULES)
def test_a_rule_has_its_page(name: str):
    """The docstring is the only manual: four headings, and a source with its confidence."""
    shown = page.page_of(MODULES[name])
    assert re.search(r"\b(high|medium|low) confidence", shown.source), "the source says how sure it is"
    told = " ".join((shown.title, shown.looks_for, shown.why, shown.do))
    assert not QUAINT.search(told), "the trade's words: stalled, rehydrated, the hydrometer"


@pytest.mark.parametrize("name", MODULES)
def test_thresholds_lie_within_their_bounds(name: str):
    """A default outside its own bounds could not be written into a cellar.toml."""
    for threshold in MODULES[name].RULE.thresholds.values():
        assert threshold.low <= threshold.default <= threshold.high
        assert threshold.means


def test_every_rule_file_is_in_the_catalogue():
    """A rule nobody asks is no rule; a story nobody reads is no story."""
    files = {path.stem for path in FOLDER.glob("*.py") if "\nRULE = Rule(" in path.read_text("utf-8")}
    assert files == {name.replace("-", "_") for name in MODULES}
    assert {path.stem for path in STORIES.glob("*.txt")} <= set(MODULES)


def test_what_a_rule_explains_exists():
    """A misspelt name would fold nothing, silently."""
    for module in catalogue.RULES:
        assert set(module.RULE.explains) <= set(MODULES)


def _text(finding: Finding) -> str:
    return " ".join((finding.says, finding.why, *finding.do, finding.clears_when, *finding.missing))
