"""The judging of a batch and of a cellar: ask the rules, fold what follows from what, put to sleep what was hushed."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cache

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import Cellar
from mustwatch.judgement.state import Verdict, judge
from mustwatch.ledger.events import Hushed
from mustwatch.ledger.settings import Settings
from mustwatch.rules import catalogue
from mustwatch.rules.finding import Finding, Severity
from mustwatch.rules.page import with_why
from mustwatch.rules.rule import RuleModule
from mustwatch.rules.view import View

Check = Callable[[View], Iterable[Finding]]
LONGEST_DANGER_HUSH = timedelta(hours=24)


@dataclass(slots=True)
class Cache:
    """Judgements kept from look to look: tag -> (key, verdict, findings).

    The key holds the batch's revision, the settings and the hour, so that what only time changes is judged
    again within the hour. Losing it costs time and nothing else.
    """

    settings: Settings | None = None
    known: dict[str, tuple[tuple[str, int], Verdict, tuple[Finding, ...]]] = field(default_factory=dict)


def judge_cellar(cellar: Cellar, now: datetime, cache: Cache | None = None) -> tuple[Finding, ...]:
    """The findings about a whole cellar, worst first.

    cache: kept by the caller; only batches that changed, or that a new hour may have changed, are judged again.
    """
    cache = Cache() if cache is None else cache
    if cache.settings != cellar.settings:
        cache.settings, cache.known = cellar.settings, {}
    views, found = [], []
    for batch in cellar.batches.values():
        verdict, own = _judged(batch, cellar.settings, now, cache)
        views.append(View(batch, verdict, cellar.settings, now, notes=cellar.notes))
        found.append(own)
    for tag in cache.known.keys() - cellar.batches.keys():
        del cache.known[tag]
    wide = _cellar_wide(views)
    result: list[Finding] = []
    for view, own in zip(views, found, strict=True):
        if own or view.batch.tag in wide:
            together = folded([*own, *wide.get(view.batch.tag, ())])
            result += _with_hushes(together, view.batch, now)
    return tuple(_ordered(result))


def _judged(batch: Batch, settings: Settings, now: datetime, cache: Cache) -> tuple[Verdict, tuple[Finding, ...]]:
    key = (batch.revision, int(now.timestamp() // 3600))
    known = cache.known.get(batch.tag)
    if known is None or known[0] != key:
        verdict = judge(batch, settings, now)
        found = tuple(_found(View(batch, verdict, settings, now)))
        known = cache.known[batch.tag] = (key, verdict, found)
    return known[1], known[2]


@cache
def _asked_in(
    rules: tuple[RuleModule, ...], *stages: str | None
) -> tuple[tuple[RuleModule, Callable[[View], Iterable[Finding]]], ...]:
    """The rules that are asked of a batch in these stages, each with its check."""
    asked = (module for module in rules if module.RULE.stages.intersection(stages))
    return tuple((module, check) for module in asked if (check := getattr(module, "check", None)) is not None)


def _found(view: View) -> list[Finding]:
    found: list[Finding] = []
    for module, check in _asked_in(catalogue.RULES, view.batch.stage, view.batch.vessel_stage):
        if own := list(check(view)):
            found += with_why(module, own)
    return found


def _cellar_wide(views: Sequence[View]) -> dict[str, list[Finding]]:
    by_tag: dict[str, list[Finding]] = {}
    for module in catalogue.RULES:
        if (check := getattr(module, "check_cellar", None)) is not None:
            for finding in with_why(module, check(views)):
                by_tag.setdefault(finding.batch, []).append(finding)
    return by_tag


def folded(found: Sequence[Finding]) -> list[Finding]:
    """One finding a cause: those that another one explains lie under it.

    Nothing is folded under something milder: the worse keeps its own line.
    """
    if len(found) < 2:
        return list(found)
    explains = {module.RULE.name: module.RULE.explains for module in catalogue.RULES}
    causes: dict[int, int] = {}
    for place, finding in enumerate(found):
        for other, cause in enumerate(found):
            if (
                other != place
                and finding.rule in explains.get(cause.rule, ())
                and cause.severity >= finding.severity
                and not _leads_to(causes, other, place)
            ):
                causes[place] = other
                break
    under: dict[int, list[Finding]] = {}
    for place in causes:
        under.setdefault(_root(causes, place), []).append(found[place])
    return [
        finding._replace(folded=tuple(under[place])) if place in under else finding
        for place, finding in enumerate(found)
        if place not in causes
    ]


def _root(causes: Mapping[int, int], place: int) -> int:
    while place in causes:
        place = causes[place]
    return place


def _leads_to(causes: Mapping[int, int], start: int, goal: int) -> bool:
    return _root(causes, start) == goal


def _with_hushes(found: Iterable[Finding], batch: Batch, now: datetime) -> list[Finding]:
    return [_asleep(finding, batch, now) for finding in found] if batch.hushes else list(found)


def _asleep(finding: Finding, batch: Batch, now: datetime) -> Finding:
    ends = [
        _end_of(hush, finding) for hush in batch.hushes if hush.rule == finding.rule and not _newer(finding, hush.at)
    ]
    until = ends[-1] if ends else None
    return finding.hushed(until) if until is not None and until > now else finding


def _newer(finding: Finding, hushed_at: datetime) -> bool:
    # A hush covers what was there, not the next of its kind: the vessel of tomorrow has a closure of its own.
    return finding.severity >= Severity.TODAY and finding.since is not None and finding.since > hushed_at


def _end_of(hush: Hushed, finding: Finding) -> datetime:
    if finding.severity is Severity.DANGER:
        return min(hush.until, hush.at + LONGEST_DANGER_HUSH)
    return hush.until


def _ordered(found: Iterable[Finding]) -> list[Finding]:
    place = {module.RULE.name: number for number, module in enumerate(catalogue.RULES)}
    return sorted(
        found,
        key=lambda finding: (
            finding.asleep,
            -finding.severity,
            place.get(finding.rule, len(place)),
            finding.batch,
        ),
    )
