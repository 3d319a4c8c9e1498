"""One truth, one voice: whatever page a batch is looked at on, it is told the same figures and the same verdict.

The sample cellar and every story of every rule are rendered as `check`, `show`, `outlook`, the round's pane and the
forms' foresight render them, and what is printed there is compared: the text, not what stands behind it.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property
from typing import Any

import pytest
from rules.scenario import Story, stories_of
from rules.scenario import story as told
from screens.text import text_of
from test_sample_cellar import EXPECTED, sample_events

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import Cellar, fold
from mustwatch.commands.check import lines_of
from mustwatch.commands.outlook import as_text
from mustwatch.commands.show import as_json
from mustwatch.deeds.deed import Ground
from mustwatch.deeds.foresight import foreseen
from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.judgement.state import Verdict, judge
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import Event
from mustwatch.ledger.settings import Settings
from mustwatch.rules import catalogue
from mustwatch.rules.engine import judge_cellar
from mustwatch.rules.finding import Finding, Severity
from mustwatch.said.outlook_json import to_json
from mustwatch.said.standing import standing
from mustwatch.screens.round.standing import standing_lines
from mustwatch.trade import carbonation, pressure
from mustwatch.trade.sorbate import sorbate_dose


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
        return _joined(as_text(self._outlook, self.batch, self.settings))

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
        end = self._outlook.final_sg
        likely = (end.p10, end.p90) if end else None
        return _joined([text_of(standing_lines(self.batch, self._verdict, self.settings, self.now, 200, likely))])

    @cached_property
    def show(self) -> dict[str, str]:
        """The labelled lines of `show`."""
        return dict(standing(self.batch, self._verdict, self.now, self.settings))

    @cached_property
    def _verdict(self) -> Verdict:
        return judge(self.batch, self.settings, self.now)

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


@pytest.mark.parametrize("share", [0.1, 0.25, 0.4, 0.55, 0.7, 0.85])
def test_every_page_told_the_sample_cellar_alike_before(share: float):
    """At earlier times of its life, batch by batch."""
    cellar, events, now = sample_events()
    began = min(event.at for event in events)
    then = began + share * (now - began)
    before = fold([event for event in events if event.at <= then], cellar.settings, then)
    for batch in before.batches.values():
        _compare(Seen(before, events, batch, then))


def test_there_was_something_to_compare():
    """Else the comparisons above could say nothing: each finds printed figures in the stories of these rules."""
    rules = ("sealed-while-alive", "over-the-bottle", "stalled", "sluggish", "bottled-sweet", "sorbate-dose-off")
    found: Counter[str] = Counter()
    for name in rules:
        for story in stories_of(name):
            for seen in _of_story(story):
                found.update({compared.__name__: compared(seen) for compared in COMPARED})
    assert all(found[compared.__name__] >= 8 for compared in COMPARED), found


def _compare(seen: Seen) -> None:
    for compared in COMPARED:
        compared(seen)


def same_days_needed(seen: Seen) -> int:
    """As a finding of what is sealed, a form and the outlook say it, with the same reasons."""
    told = 0
    if not seen.batch.active or seen.json["state"] is None:
        return told
    needed = f"{seen.json['rest_needed_days']} days are needed"
    for text in (seen.check if seen.has("sealed-while-alive") else "", seen.bunged or "", seen.outlook):
        for found in re.findall(r"\d+ days are needed(?:, for [a-z ,]+)?", text):
            assert found.startswith(needed), (found, needed)
            assert all(because in found for because in seen.json["rest_needed_because"]), found
            told += 1
    return told


def same_rest(seen: Seen) -> int:
    """Closing it is spoken against exactly where the outlook does not call it at rest, and dry or protected."""
    json = seen.json
    if not seen.batch.active or seen.batch.pitched is None or seen.batch.vessel_kind == "keg":
        return 0
    rested = json["rest_days"] >= json["rest_needed_days"] - 0.25
    if json["state"] in ("stable", "finished"):
        assert rested
    assert (seen.bunged is None) == json["may_be_closed"], seen.bunged
    if seen.bunged is not None and "readings agree for" in seen.bunged:
        assert not rested, seen.bunged
        assert json["state"] not in ("stable", "finished")
    if seen.batch.stage == "ageing":
        assert json["state"] in ("stable", "finished"), json["state"]
    return 1


def same_least_end(seen: Seen) -> int:
    """One gravity and one count of points above it, whoever speaks of where it should have come at least."""
    texts = (seen.check, seen.outlook, seen.pane)
    ends = {end for text in texts for end in re.findall(r"(\d\.\d{3}), where its yeast should (?:have )?come", text)}
    ends |= set(re.findall(r"should come to (\d\.\d{3}) at least", seen.pane))
    above = {count for text in texts for count in re.findall(r"(\d+) points? above \d\.\d{3}, where its yeast", text)}
    assert len(ends) <= 1 and len(above) <= 1, (ends, above)
    assert all(abs(float(end) - seen.json["least_end_sg"]) < 0.0006 for end in ends)
    assert all(abs(float(count) - seen.json["points_above_least_end"]) < 0.6 for count in above)
    assert not any(re.search(r"expected end|above its end", text) for text in (seen.outlook, seen.pane))
    return len(ends)


def same_likely_end(seen: Seen) -> int:
    """The forecast's own name and figures, in the outlook and in the pane."""
    told = [re.findall(r"will most likely end at (\d\.\d{3}(?: to \d\.\d{3})?)", t) for t in (seen.outlook, seen.pane)]
    if seen.batch.active:
        assert told[0] == told[1]
    return len(told[0])


def same_gas(seen: Seen) -> int:
    """As much at most in the finding about the bottles as in the outlook."""
    volumes = seen.json["gas_to_come_volumes"]
    if seen.batch.active or not volumes:
        return 0
    made = re.findall(r"([\d.]+) of them made in the bottle", seen.check)
    if len(seen.batch.bottlings) == 1:
        assert all(found == f"{volumes['most']:.1f}" for found in made), (made, volumes)
    most = re.findall(r"at most ([\d.]+)", seen.outlook)
    assert all(found == f"{volumes['most']:.1f}" for found in most), (most, volumes)
    return len(made)


def same_protection(seen: Seen) -> int:
    """What does not keep the sugar for one page keeps it for none, and for the same reason."""
    because, told = seen.json["not_protected_because"], 0
    if seen.json["state"] is None:
        return told
    if seen.has("sorbate-dose-off", Severity.WATCH) and "does not hold" in seen.check:
        assert not seen.json["protected"]
    for text in (seen.check if seen.batch.active else "", seen.bunged or ""):
        if "it is sweet, and" in text or "steady and sweet, and" in text:
            assert because and because in text, (because, text)
            told += 1
    if not seen.batch.active and len(seen.batch.bottlings) == 1 and seen.has("bottled-sweet", Severity.DANGER):
        assert not seen.json["may_be_closed"]
    return told


def same_alcohol(seen: Seen) -> int:
    """In `show`, in its JSON and in the pane, to the tenth."""
    known = as_json(seen.batch, [])["alcohol_abv"]
    shown, paned = (re.search(r"% vol \(([\d.]+) to ([\d.]+)", text) for text in (seen.show["alcohol"], seen.pane))
    assert (shown is None) == (paned is None)
    for found in (shown, paned):
        if found:
            assert known is not None and found.groups() == (f"{known['low']:.1f}", f"{known['high']:.1f}")
    if known is None:
        assert "alcohol NOT KNOWN" in seen.pane and "NOT KNOWN" in seen.show["alcohol"]
    return bool(shown) + bool(paned)


def same_state(seen: Seen) -> int:
    """The finding of a stall, the pane and the outlook speak of one and the same state, and of one stage."""
    state = seen.json["state"]
    stages = next(module.RULE.stages for module in catalogue.RULES if module.RULE.name == "stalled")
    if {seen.batch.stage, seen.batch.vessel_stage} & stages:
        assert seen.has("stalled") == (state == "stalled")
    assert seen.show["stage"].split()[0] == as_json(seen.batch, [])["stage"]
    if not seen.batch.active:
        return 0
    for text in (seen.pane, seen.show.get("state", ""), seen.outlook):
        told = [name for name in ("stalled", "stable", "finished") if re.search(rf"\b{name} at \d", text)]
        assert told == [name for name in ("stalled", "stable", "finished") if name == state], text
    return 1


def no_contradiction(seen: Seen) -> int:
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
            assert "keep away" not in seen.outlook and "do not seal" not in seen.outlook
    if "keep away" in seen.outlook:
        sealed = ("sealed-while-alive", "bottled-sweet", "bottled-before-stable", "over-the-bottle")
        assert any(seen.has(rule, Severity.TODAY) for rule in sealed)
    return int(json["may_be_closed"])


COMPARED = (
    same_days_needed, same_rest, same_least_end, same_likely_end, same_gas, same_protection, same_alcohol, same_state,
    no_contradiction,
)  # fmt: skip


def _one(text: str) -> Seen:
    """The batch of a story."""
    return next(_of_story(told("    " + text.strip())))


STRONG = """
    day 0         mixed 4.5l jug 5l honey 1.5kg
    day 0 09:10   read 1.105
    day 0 09:30   pitched sparkling 18%
    day 40        read 0.996
    day 48        read 0.996
    day 48 10:00  closed solid-bung
    now day 49
"""
COLD = """
    day 0         mixed 4.5l jug 5l honey 1.5kg
    day 0 09:10   read 1.080
    day 0 09:30   pitched ale
    day 9         moved cellar air_c=8
    day 40        read 0.998
    day 48        read 0.998
    day 48 10:00  closed solid-bung
    now day 49
"""


@pytest.mark.parametrize(("text", "because"), [(STRONG, "it is strong"), (COLD, "it is cold")])
def test_eight_days_of_agreement_are_too_few_for_check_and_outlook_alike(text: str, because: str):
    """Strong by its alcohol, or cold by its air: one page was silent of each where the other asked for two weeks."""
    seen = _one(text)
    assert seen.has("sealed-while-alive", Severity.DANGER)
    assert "14 days are needed" in seen.check and because in seen.check
    assert seen.json["state"] == "undecided" and seen.json["rest_needed_days"] == 14
    assert "14 days are needed" in seen.outlook and because in seen.outlook
    later = _one(text.replace("day 48", "day 54").replace("now day 49", "now day 55"))
    assert not later.has("sealed-while-alive") and later.json["state"] == "finished"


STALL = """
    day 0         mixed 4.5l jug 5l honey 1.5kg
    day 0 09:10   read 1.110
    day 0 09:30   pitched white-wine 14%
    day 20        read 1.060 pH3.0
    day 20 10:00  racked jug 4.5l 4.4l
    day 26        read 1.060 pH2.9
    day 33        read 1.060 pH2.9
    day 40        read 1.060
    now day 41
"""


def test_a_stall_is_no_rest_for_any_page():
    """Racked and standing still for three weeks it was called ageing, and the sour must that explains it vanished."""
    seen = _one(STALL)
    assert seen.batch.stage == "secondary" and seen.show["stage"].startswith("secondary")
    assert seen.json["state"] == "stalled" and seen.has("stalled", Severity.TODAY)
    assert seen.has("must-too-sour", Severity.TODAY)


def test_a_stall_read_once_a_month_is_one_too():
    """Whether it stands still does not depend on how often somebody looks."""
    kept = [line for line in STALL.splitlines() if "day 26" not in line and "day 33" not in line]
    seen = _one("\n".join(kept).replace("day 40", "day 55").replace("now day 41", "now day 56"))
    assert seen.json["state"] == "stalled" and seen.has("stalled", Severity.TODAY)


def test_the_least_end_and_the_likely_end_have_their_own_names():
    """Four pages gave four ends; two are true, and each is told what it is."""
    seen = _one(STALL)
    assert all("where its yeast should have come at least" in text for text in (seen.check, seen.outlook))
    assert "should come to" in seen.pane and "will most likely end" in seen.outlook
    assert "expected_end" not in seen.json


STABILISED = """
    day 0         mixed 4.5l jug 5l honey 1.5kg
    day 0 09:10   read 1.120
    day 0 09:30   pitched ale
    day 40        read 1.030 pH3.4
    day 41        added sulfite 0.4g
    day 41 10:00  added sorbate 1g
    day 60        read 1.030
    day 61        bottled 6x750 still-wine cork still
    now day 70
"""


def test_the_outlook_fears_no_lot_that_the_rules_call_sound():
    """It counted no stabiliser and said to keep away from the glass."""
    seen = _one(STABILISED)
    assert not seen.findings or all(one.severity < Severity.TODAY for one in seen.findings)
    assert seen.json["may_be_closed"] and seen.json["gas_to_come_volumes"]["most"] == 0
    assert "gas" not in seen.outlook and "not safe" not in seen.outlook


RATED = """
    day 0         mixed 4.5l jug 5l honey 1.2kg
    day 0 09:10   read 1.075
    day 0 09:30   pitched sparkling
    day 30        read 0.998 must20C
    day 40        read 0.998 must20C
    day 41        bottled 6x750 other crown-cap sparkling priming49g
    now day 42
"""


def test_a_stated_rating_is_held_against_the_alcohol_as_the_bench_does():
    """What holds five bar of sweet water does not hold it of wine: less gas stays in the drink."""
    reached = carbonation.volumes_to_reach(49 / 4.5, "sucrose", 20.0)
    water, wine = (pressure.gauge_bar(reached, 30.0, abv) for abv in (0.0, 10.0))
    assert water < 5.0 < wine
    assert _rated(RATED, 5.0).has("over-the-bottle", Severity.DANGER)
    assert not _rated(RATED, 6.0).has("over-the-bottle")


def _rated(text: str, bar: float) -> Seen:
    """The story with a rating that its maker states for its bottles."""
    story = told("    " + text.strip())
    bottled = story.events[-1]
    lots = tuple(lot.model_copy(update={"rating_bar": bar}) for lot in bottled.lots)
    story.events[-1] = bottled.model_copy(update={"lots": lots})
    return next(_of_story(story))


@pytest.mark.parametrize(("start", "ph"), [("1.100", "3.4"), ("1.120", "3.6")])
def test_a_dose_that_the_bench_refuses_protects_nothing(start: str, ph: str):
    """Too weak for any sorbate, or not sour enough."""
    seen = _one(STABILISED.replace("1.120", start).replace("3.4", ph))
    with pytest.raises(ValueError, match="cannot be relied on"):
        sorbate_dose(9.0 if start == "1.100" else 11.0, float(ph))
    assert seen.has("bottled-sweet", Severity.DANGER) and seen.has("sorbate-dose-off", Severity.WATCH)
    assert not seen.json["protected"] and not seen.json["may_be_closed"]
