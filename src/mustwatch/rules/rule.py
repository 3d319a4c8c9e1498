"""All that a rule's file needs: what it says of itself, what it looks at, and the finding it makes."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from types import MappingProxyType
from typing import NamedTuple, Protocol

from mustwatch.ledger.settings import Settings
from mustwatch.rules import words
from mustwatch.rules.finding import Finding, Severity, worst
from mustwatch.rules.view import View, look_in

__all__ = [
    "FERMENTING_STAGES", "LIVING_STAGES", "VESSEL_STAGES", "Finding", "Findings", "Rule", "RuleModule", "Severity",
    "Threshold", "View", "check_thresholds", "look_in", "words", "worst",
]  # fmt: skip

Findings = Iterable[Finding]

VESSEL_STAGES = frozenset({"must", "lag", "primary", "secondary", "ageing"})
FERMENTING_STAGES = frozenset({"lag", "primary", "secondary"})
LIVING_STAGES = VESSEL_STAGES | {"bottled"}


class Threshold(NamedTuple):
    """A number of a rule that a cellar may set, with its bounds, its unit and what it means."""

    default: float
    low: float
    high: float
    unit: str
    means: str


class Rule(NamedTuple):
    """A rule's name and habits.

    severity: the worst it can say; stages: the only stages it is asked in;
    explains: rules whose findings on the same batch are consequences of this one and fold under it.
    """

    name: str
    severity: Severity
    stages: frozenset[str] = VESSEL_STAGES
    thresholds: Mapping[str, Threshold] = MappingProxyType({})
    explains: tuple[str, ...] = ()

    def number(self, view: View, name: str) -> float:
        """The number this cellar uses for one threshold, in the threshold's unit."""
        return view.settings.threshold(self.name, name, self.thresholds[name].default)

    def found(
        self,
        view: View,
        severity: Severity,
        says: str,
        *,
        why: str = "",
        do: tuple[str, ...],
        clears_when: str,
        evidence: Iterable[str | None] = (),
        since: datetime | None = None,
        missing: tuple[str, ...] = (),
        look_again: datetime | None = None,
        action: tuple[str, str] | None = None,
    ) -> Finding:
        """A finding of this rule about the batch in view; evidence that is None is left out.

        why: the consequence, where it is another than the page's; else the page's own words are taken.
        """
        return Finding(
            rule=self.name,
            batch=view.batch.tag,
            severity=severity,
            says=says,
            why=why,
            do=do,
            clears_when=clears_when,
            evidence=tuple(dict.fromkeys(id_ for id_ in evidence if id_)),
            since=since,
            missing=missing,
            look_again=look_again,
            action=action,
        )

    def cannot_judge(self, fact: str, assumption: str) -> str:
        """The one sentence for a fact not recorded."""
        return f"Cannot judge {self.name}: {fact} not recorded. Until it is, treat as {assumption.rstrip('.')}."


class RuleModule(Protocol):
    """A module of this package that is a rule: a docstring, RULE, and `check` or `check_cellar`.

    `check(view)` sees one batch; `check_cellar(views)` sees all of them, for what concerns a room or a year.
    """

    __name__: str
    __doc__: str | None
    RULE: Rule


def check_thresholds(settings: Settings, rules: Iterable[Rule]) -> None:
    """Nothing, when every threshold in the settings is a known one within its bounds.

    Raises ValueError with one line naming the key and what would be right.
    """
    known = {rule.name: rule.thresholds for rule in rules}
    for name, numbers in settings.thresholds.items():
        if name not in known:
            raise ValueError(f"cellar.toml: thresholds.{name}: no rule has this name; see `mustwatch rules`")
        for key, value in numbers.items():
            _check_threshold(f"thresholds.{name}.{key}", known[name], key, value)


def _check_threshold(where: str, known: Mapping[str, Threshold], key: str, value: float) -> None:
    if key not in known:
        names = ", ".join(known) or "none"
        raise ValueError(f"cellar.toml: {where} is not a threshold of this rule; it has: {names}")
    bound = known[key]
    if not bound.low <= value <= bound.high:
        raise ValueError(f"cellar.toml: {where} must be {bound.low:g} to {bound.high:g} {bound.unit}, got {value:g}")
