"""What falls due over all batches: now, and on each day to come if nothing more is recorded.

What a rule will say is asked of the rule itself, at the end of each day to come: so every wait, schedule and window of
the rules is known here without being written down twice.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import Cellar
from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.judgement.state import Verdict, judge
from mustwatch.rules import catalogue
from mustwatch.rules.engine import judge_cellar
from mustwatch.rules.finding import Finding, Severity
from mustwatch.rules.shelf import shelf
from mustwatch.said.due import bottle_words, decide_words, end_words, from_words, until_words

SOON = timedelta(hours=36)  # what wants another look within that is for today
# Each of the first days is looked at, then one a week; of what lies in bottles one in thirty days. Between two of them
# the day itself is sought.
DAILY, STEP, BOTTLED_STEP = 14, 7, 30
WEEK = 7
DAYS = 30  # looked ahead where nobody says how far
SCHEDULED = {"feeding-due", "steeped-too-long", "fruit-too-long"}
SAID_BY_THE_SHELF = {"past-its-window"}
READINGS = ("decide", "no-sign-of-life", "reading-overdue")  # one reading answers each of them
KNOWN_WITHIN = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Due:
    """One thing that falls due. what: verb first; why: as seen on that day; source: schedule, outlook, rule or shelf;
    kind: the rule, or what it is; with the batch and the first of the evidence it names the fact for good."""

    on: datetime
    batch: str
    what: str
    why: str
    source: str
    kind: str
    evidence: tuple[str, ...]
    severity: Severity = Severity.NOTE


def due(cellar: Cellar, findings: Sequence[Finding], days: int) -> list[Due]:
    """What falls due from now to the end of so many days, the earliest first, and of one day the worst first."""
    last = _end_of_day(cellar.now, days)
    found = [
        *_now(findings, cellar.now),
        *_to_come(cellar, findings, days),
        *_foreseen(cellar, {one.batch for one in findings if one.severity >= Severity.TODAY}),
        *_on_the_shelf(cellar, findings),
    ]
    one_reading = _without_second_reading([one for one in found if one.on <= last])
    return sorted(one_reading, key=lambda one: (_date(one.on, cellar.now), -one.severity, one.batch, one.on, one.kind))


def parts_of(found: Sequence[Due], now: datetime) -> list[tuple[str, list[Due]]]:
    """(today, this week, later) with what falls due in each, what is past its day in the first; empty ones left out."""
    today, week = _end_of_day(now, 0), _end_of_day(now, WEEK - 1)
    parts = [
        ("today", [one for one in found if one.on <= today]),
        ("this week", [one for one in found if today < one.on <= week]),
        ("later", [one for one in found if one.on > week]),
    ]
    return [part for part in parts if part[1]]


def behind(one: Due) -> str:
    """What stands behind a line: the rule by its name, else the reason in words."""
    return one.kind if one.source in ("rule", "schedule") else one.why.rstrip(".")


def _date(at: datetime, now: datetime) -> datetime:
    here = max(at, now).astimezone(now.tzinfo)
    return here.replace(hour=0, minute=0, second=0, microsecond=0)


def _end_of_day(now: datetime, days: int) -> datetime:
    return (now + timedelta(days=days)).replace(hour=23, minute=59, second=59, microsecond=0)


def _is_due(finding: Finding) -> bool:
    """Whether a finding asks for something to be done: a note alone does not, unless a form does it."""
    told = finding.severity >= Severity.WATCH or finding.action is not None
    return told and bool(finding.do) and finding.rule not in SAID_BY_THE_SHELF


def _now(findings: Iterable[Finding], now: datetime) -> Iterable[Due]:
    """What the rules say today, on the day they want it done."""
    for finding in findings:
        again, on = finding.look_again, now
        if finding.severity < Severity.TODAY and again is not None and again - now > SOON:
            on = again
        if finding.asleep and finding.hushed_until is not None:
            on = max(on, finding.hushed_until)
        if _is_due(finding):
            yield _of_rule(finding, on)


def _of_rule(finding: Finding, on: datetime) -> Due:
    source = "schedule" if finding.rule in SCHEDULED else "rule"
    return Due(on, finding.batch, finding.do[0], finding.says, source, finding.rule, finding.evidence, finding.severity)


def living(cellar: Cellar) -> Cellar:
    """The cellar without its ended batches, of which nothing falls due."""
    return cellar._replace(batches={tag: batch for tag, batch in cellar.batches.items() if batch.stage != "ended"})


class _Ahead:
    """A cellar as the rules will see it on later days, if nothing more is recorded; each day is judged once."""

    def __init__(self, cellar: Cellar) -> None:
        self._cellar = cellar
        self._known: dict[int, dict[tuple[str, str], Finding]] = {}

    def on(self, day: int) -> dict[tuple[str, str], Finding]:
        """What will be found at the end of a day to come, folded findings too: by batch and rule."""
        if day not in self._known:
            self._known[day] = self._judged(_end_of_day(self._cellar.now, day))
        return self._known[day]

    def _judged(self, then: datetime) -> dict[tuple[str, str], Finding]:
        return _named(judge_cellar(self._cellar._replace(now=then), then))

    def alone(self, tag: str) -> _Ahead:
        """The same of one batch by itself."""
        return _Ahead(self._cellar._replace(batches={tag: self._cellar.batches[tag]}))

    def first(self, key: tuple[str, str], before: int, by: int) -> tuple[int, Finding]:
        """The first day on which it is found, after one day and not later than another; and what is found then."""
        while by - before > 1:
            middle = (before + by) // 2
            before, by = (before, middle) if key in self.on(middle) else (middle, by)
        return by, self.on(by)[key]


def _named(found: Sequence[Finding]) -> dict[tuple[str, str], Finding]:
    """The findings, those folded under others too, by batch and rule; what is found of a whole cellar by rule alone,
    for the batch that stands for it may be another on another day."""
    every = [*found, *(under for one in found for under in one.folded)]
    return {("" if one.rule in _wide() else one.batch, one.rule): one for one in reversed(every)}


@cache
def _wide() -> frozenset[str]:
    return frozenset(module.RULE.name for module in catalogue.RULES if not hasattr(module, "check"))


def _to_come(cellar: Cellar, findings: Sequence[Finding], days: int) -> Iterable[Due]:
    """What rules will say that do not say it yet, each on the first day that they do."""
    known = set(_named(findings))
    there = living(cellar).batches
    in_vessels = {tag: batch for tag, batch in there.items() if batch.active}
    in_bottles = {tag: batch for tag, batch in there.items() if not batch.active}
    closely = [*range(min(days, DAILY) + 1), *range(DAILY + STEP, days + STEP, STEP)]
    rarely = range(BOTTLED_STEP, days + BOTTLED_STEP, BOTTLED_STEP)
    yield from _new(_Ahead(cellar._replace(batches=in_vessels)), known, closely, cellar.now)
    yield from _new(_Ahead(cellar._replace(batches=in_bottles)), known, rarely, cellar.now)


def _new(ahead: _Ahead, known: set[tuple[str, str]], days: Iterable[int], now: datetime) -> Iterable[Due]:
    before = -1
    for day in days:
        for key in [key for key, finding in ahead.on(day).items() if key not in known and _is_due(finding)]:
            known.add(key)
            # What rests on other batches too is sought among them all.
            alone = ahead.alone(key[0]) if key[0] else ahead
            first, finding = (alone if key in alone.on(day) else ahead).first(key, before, day)
            yield _of_rule(finding, _moment(finding, now, first))
        before = day


def _moment(finding: Finding, now: datetime, day: int) -> datetime:
    """When on its day it falls due: its own hour where the rule knows it, else the noon, and never before now."""
    end = _end_of_day(now, day)
    if finding.since is not None and timedelta(0) <= end - finding.since < KNOWN_WITHIN:
        return max(now, finding.since)
    return max(now, end.replace(hour=12, minute=0, second=0))


def _foreseen(cellar: Cellar, ailing: Collection[str]) -> Iterable[Due]:
    """When more will be known, when it should be at its end, and what may be bottled: of what lies in a vessel.

    ailing: the batches that need something else first, and are not to be bottled.
    """
    for batch in cellar.batches.values():
        if batch.active and batch.pitched is not None:
            verdict = judge(batch, cellar.settings, cellar.now)
            yield from _of_outlook(batch, verdict, cellar)
            if batch.tag not in ailing:
                yield from _may_be_bottled(batch, verdict, cellar)


def _of_outlook(batch: Batch, verdict: Verdict, cellar: Cellar) -> Iterable[Due]:
    now, settings = cellar.now, cellar.settings
    if verdict.decide_on is not None:
        why = decide_words(batch, verdict, now, settings)
        yield Due(max(now, verdict.decide_on), batch.tag, "Read the gravity.", why, "outlook", "decide", _last(batch))
    if verdict.state in ("moving", "sluggish"):
        dates = outlook(batch, settings, now).done_on
        if dates is not None and dates.p50 is not None and dates.p50 > now + SOON:
            what, why = end_words(dates.p10, dates.p90, now)
            yield Due(dates.p50, batch.tag, what, why, "outlook", "end", _pitch(batch))


def _may_be_bottled(batch: Batch, verdict: Verdict, cellar: Cellar) -> Iterable[Due]:
    now, settings = cellar.now, cellar.settings
    if verdict.at_rest and verdict.safe and verdict.rest.since is not None:
        on = max(verdict.rest.since + timedelta(days=verdict.needed.days), batch.stage_since or now)
        what, why = bottle_words(batch, verdict, now, settings)
        yield Due(on, batch.tag, what, why, "outlook", "may-be-bottled", verdict.rest.ids)


def _last(batch: Batch) -> tuple[str, ...]:
    return (batch.latest.id,) if batch.latest else _pitch(batch)


def _pitch(batch: Batch) -> tuple[str, ...]:
    return (batch.pitched.id,) if batch.pitched else ()


def _on_the_shelf(cellar: Cellar, findings: Sequence[Finding]) -> Iterable[Due]:
    """From when a bottling drinks well, and until when its like keeps; nothing of what is on hold or empty."""
    seen: set[str] = set()
    for one in shelf(cellar, findings):
        bottled, window = one.lot.bottled, one.window
        if one.hold is not None or one.lot.is_empty or bottled.id in seen:
            continue
        seen.add(bottled.id)
        for kind, on, words in (("drink-from", window.start, from_words), ("drink-by", window.end, until_words)):
            if on is not None and on >= cellar.now:
                what, why = words(one.lot, window, cellar.now)
                yield Due(on, one.batch.tag, what, why, "shelf", kind, (bottled.id,))
        past = next((each for each in findings if each.batch == one.batch.tag and each.rule in SAID_BY_THE_SHELF), None)
        if past is not None:
            yield _of_rule(past, max(cellar.now, past.hushed_until or cellar.now))


def _without_second_reading(found: Sequence[Due]) -> list[Due]:
    """One reading of a batch is due once: the earliest of those that ask for one, and of these the worst."""
    first: dict[str, Due] = {}
    for one in sorted(found, key=lambda one: (one.on, -one.severity)):
        if one.kind in READINGS:
            first.setdefault(one.batch, one)
    return [one for one in found if one.kind not in READINGS or first[one.batch] is one]
