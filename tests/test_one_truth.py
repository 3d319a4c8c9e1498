"""One truth, one voice: whatever page a batch is looked at on, it is told the same figures and the same verdict.

The sample cellar and every story of every rule are rendered as `check`, `show`, `outlook`, the round's pane and the
forms' foresight render them, and what is printed there is compared: the text, not what stands behind it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property
from typing import Any

import pytest
from rules.scenario import Story, stories_of
from test_sample_cellar import EXPECTED, sample_events

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import Cellar, fold
from mustwatch.commands.check import lines_of
from mustwatch.commands.outlook import as_text
from mustwatch.commands.show import as_json
from mustwatch.deeds.deed import Ground
from mustwatch.deeds.foresight import foreseen
from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.judgement.state import judge
from mustwatch.ledger.events import Event, draft
from mustwatch.ledger.settings import Settings
from mustwatch.rules import catalogue
from mustwatch.rules.engine import judge_cellar
from mustwatch.rules.finding import Finding, Severity
from mustwatch.said.outlook_json import to_json
from mustwatch.said.standing import standing
from mustwatch.screens.ink import text_of
from mustwatch.screens.round.standing import standing_lines


@dataclass
class Seen:
    """One batch at one moment, on every page that tells of it."""

    cellar: Cellar
    events: list[Event]
    batch: Batch
    now: datetime

    @property
    def settings(self) -> Settings:
        return self.cellar.settings

    @cached_property
    def findings(self) -> list[Finding]:
        """What `check` finds of it, those folded under others too."""
        own = [one for one in judge_cellar(self.cellar, self.now) if one.batch == self.batch.tag]
        return [*own, *(under for one in own for under in one.folded)]

    @cached_property
    def check(self) -> str:
        """The printed findings."""
        return _joined(line for one in self.findings for line in lines_of(one, self.now))

    @cached_property
    def outlook(self) -> str:
        """The printed outlook."""
        return _joined(as_text(self._outlook, self.batch))

    @cached_property
    def json(self) -> dict[str, Any]:
        """The outlook's JSON."""
        return to_json(self._outlook, self.batch)

    @cached_property
    def _outlook(self) -> Any:
        # Stories name their events alike; without a revision nothing is taken from another story's outlook.
        return outlook(replace(self.batch, revision=""), self.settings, self.now)

    @cached_property
    def pane(self) -> str:
        """The round's pane."""
        verdict = judge(self.batch, self.settings, self.now)
        return _joined([text_of(standing_lines(self.batch, verdict, self.settings, self.now, 200))])

    @cached_property
    def show(self) -> dict[str, str]:
        """The labelled lines of `show`."""
        return dict(standing(self.batch, self.now, self.settings))

    @cached_property
    def bunged(self) -> str | None:
        """What the form for a closure says of a solid bung now, printed; None where it says nothing against it."""
        ground = Ground(self.batch.tag, self.cellar, self.now, self.events)
        seen = foreseen(ground, [draft("closed", self.now, self.batch.tag, closure="solid-bung")])
        assert not seen.trouble, seen.trouble
        said = [one for one in (*seen.dangers, *seen.others) if one.rule == "sealed-while-alive"]
        against = [one for one in said if one.severity >= Severity.TODAY]
        return _joined(line for one in against for line in lines_of(one, self.now)) if against else None

    def has(self, rule: str, least: Severity = Severity.NOTE) -> bool:
        """Whether `check` says something of a rule."""
        return any(one.rule == rule and one.severity >= least for one in self.findings)


def _joined(lines: Iterator[str] | list[str]) -> str:
    return " ".join(" ".join(lines).split())


def _of_story(story: Story) -> Iterator[Seen]:
    settings = Settings(thresholds=story.thresholds, places=story.places)
    events = [event for event in story.events if event.at <= story.at]
    cellar = fold(events, settings, story.at)
    for batch in cellar.batches.values():
        yield Seen(cellar, events, batch, story.at)


STORIES = [story for module in catalogue.RULES for story in stories_of(module.RULE.name)]
IDS = [f"{story.rule}/{story.sort}: {story.title}" for story in STORIES]


@pytest.mark.parametrize("story", STORIES, ids=IDS)
def test_every_page_tells_a_story_alike(story: Story):
    """Each rule's stories hold the odd cases that somebody thought of."""
    for seen in _of_story(story):
        _compare(seen)


@pytest.mark.parametrize("tag", EXPECTED)
def test_every_page_tells_the_sample_cellar_alike(tag: str):
    """What a newcomer looks at first."""
    cellar, events, now = sample_events()
    _compare(Seen(cellar, events, cellar.batches[tag], now))


def _compare(seen: Seen) -> None:
    for compared in (
        same_days_needed, same_rest, same_least_end, same_gas, same_protection, same_alcohol, same_state, no_contradiction
    ):  # fmt: skip
        compared(seen)


def same_days_needed(seen: Seen) -> None:
    """As a finding of what is sealed, a form and the outlook say it, with the same reasons."""
    if not seen.batch.active or seen.json["state"] is None:
        return
    needed = f"{seen.json['rest_needed_days']} days are needed"
    for text in (seen.check if seen.has("sealed-while-alive") else "", seen.bunged or "", seen.outlook):
        for found in re.findall(r"\d+ days are needed(?:, for [a-z ,]+)?", text):
            assert found.startswith(needed), (found, needed)
            assert all(because in found for because in seen.json["rest_needed_because"]), found


def same_rest(seen: Seen) -> None:
    """Closing it is spoken against exactly where the outlook does not call it at rest, and dry or protected."""
    json = seen.json
    if not seen.batch.active or seen.batch.pitched is None or seen.batch.vessel_kind == "keg":
        return
    rested = json["rest_days"] >= json["rest_needed_days"] - 0.25
    if json["state"] in ("stable", "finished"):
        assert rested
    assert (seen.bunged is None) == json["may_be_closed"], seen.bunged
    if seen.bunged is not None and "readings agree for" in seen.bunged:
        assert not rested, seen.bunged
        assert json["state"] not in ("stable", "finished")
    if seen.batch.stage == "ageing":
        assert json["state"] in ("stable", "finished"), json["state"]


def same_least_end(seen: Seen) -> None:
    """One gravity and one count of points above it, whoever speaks of where it should have come at least."""
    texts = (seen.check, seen.outlook, seen.pane)
    ends = {end for text in texts for end in re.findall(r"(\d\.\d{3}), where its yeast should (?:have )?come", text)}
    ends |= set(re.findall(r"should come to (\d\.\d{3}) at least", seen.pane))
    above = {count for text in texts for count in re.findall(r"(\d+) points? above \d\.\d{3}, where its yeast", text)}
    assert len(ends) <= 1 and len(above) <= 1, (ends, above)
    assert all(abs(float(end) - seen.json["least_end_sg"]) < 0.0006 for end in ends)
    assert all(abs(float(count) - seen.json["points_above_least_end"]) < 0.6 for count in above)
    assert not any(re.search(r"expected end|above its end", text) for text in (seen.outlook, seen.pane))


def same_gas(seen: Seen) -> None:
    """As much at most in the finding about the bottles as in the outlook."""
    volumes = seen.json["gas_to_come_volumes"]
    if seen.batch.active or not volumes:
        return
    made = re.findall(r"([\d.]+) of them made in the bottle", seen.check)
    if len(seen.batch.bottlings) == 1:
        assert all(found == f"{volumes['most']:.1f}" for found in made), (made, volumes)
    for found in re.findall(r"at most ([\d.]+)", seen.outlook):
        assert found == f"{volumes['most']:.1f}"


def same_protection(seen: Seen) -> None:
    """What does not keep the sugar for one page keeps it for none, and for the same reason."""
    because = seen.json["not_protected_because"]
    if seen.json["state"] is None:
        return
    if seen.has("sorbate-dose-off", Severity.WATCH) and "does not hold" in seen.check:
        assert not seen.json["protected"]
    for text in (seen.check if seen.batch.active else "", seen.bunged or ""):
        if "it is sweet, and" in text or "steady and sweet, and" in text:
            assert because and because in text, (because, text)
    if not seen.batch.active and len(seen.batch.bottlings) == 1 and seen.has("bottled-sweet", Severity.DANGER):
        assert not seen.json["may_be_closed"]


def same_alcohol(seen: Seen) -> None:
    """In `show`, in its JSON and in the pane, to the tenth."""
    known = as_json(seen.batch, [])["alcohol_abv"]
    shown = re.search(r"\(([\d.]+) to ([\d.]+)", seen.show["alcohol"])
    paned = re.search(r"about ([\d.]+)(?:-([\d.]+))? % vol", seen.pane)
    for found in (shown, paned):
        if found:
            assert known is not None
            low, high = found[1], found[2] or found[1]
            assert (low, high) in ((f"{known['low']:.1f}", f"{known['high']:.1f}"), (f"{known['low']:.1f}",) * 2)
    if known is None and seen.json["state"] is not None and seen.batch.active:
        assert "NOT KNOWN" in seen.pane and "not known" in seen.show["alcohol"]


def same_state(seen: Seen) -> None:
    """The finding of a stall, the pane and the outlook speak of one and the same state, and of one stage."""
    state = seen.json["state"]
    stages = next(module.RULE.stages for module in catalogue.RULES if module.RULE.name == "stalled")
    if {seen.batch.stage, seen.batch.vessel_stage} & stages:
        assert seen.has("stalled") == (state == "stalled")
    assert seen.show["stage"].split()[0] == as_json(seen.batch, [])["stage"]
    words = {
        "stalled": "stalled: standing still",
        "stable": "stable, which is not yet finished",
        "finished": "finished,",
    }
    if seen.batch.active and state in words:
        assert words[state] in seen.pane
    if seen.batch.active:
        assert not any(said in seen.pane for name, said in words.items() if name != state)


def no_contradiction(seen: Seen) -> None:
    """What one page calls proven or sound, no other calls a danger for want of that proof."""
    json = seen.json
    unproven = ("bottled-before-stable",) if not seen.batch.active else ()
    if json["state"] in ("stable", "finished"):
        assert not any(seen.has(rule, Severity.TODAY) for rule in unproven)
        assert "not proven to be at rest: readings agree" not in seen.check
    if json["may_be_closed"]:
        assert not seen.has("sealed-while-alive", Severity.TODAY)
        assert not any(seen.has(rule, Severity.TODAY) for rule in ("bottled-sweet", "bottled-before-stable"))
        assert "not safe to seal" not in seen.outlook
        if not seen.has("over-the-bottle"):
            assert "arm's length" not in seen.outlook and "past that in" not in seen.outlook
    if "arm's length" in seen.outlook:
        sealed = ("sealed-while-alive", "bottled-sweet", "bottled-before-stable", "over-the-bottle")
        assert any(seen.has(rule, Severity.TODAY) for rule in sealed)
