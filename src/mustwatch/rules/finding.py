"""What a rule saw, and how bad it is."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from enum import IntEnum
from typing import NamedTuple

from mustwatch.said.dates import moment


class Severity(IntEnum):
    """From the mildest to the worst; compare with < and >."""

    NOTE = 0
    WATCH = 1
    TODAY = 2
    DANGER = 3

    @property
    def word(self) -> str:
        """The word shown and stored: danger, today, watch, note."""
        return self.name.lower()

    @property
    def mark(self) -> str:
        """The sign beside the word; plain ASCII, so that it survives every terminal."""
        return {"DANGER": "!!", "TODAY": "! ", "WATCH": "~ ", "NOTE": ". "}[self.name]

    @classmethod
    def from_word(cls, word: str) -> Severity:
        """The severity of a word. Raises ValueError naming the four words."""
        try:
            return cls[word.upper()]
        except KeyError:
            raise ValueError(f"severity {word!r}: one of danger, today, watch, note") from None


class Finding(NamedTuple):
    """One finding about one batch.

    says: what was seen, one calm sentence; why: the consequence; do: what to do, in order;
    evidence: ids of the events it rests on; missing: facts not recorded, in words;
    clears_when: what would end it; look_again: when to look;
    action: which form writes down the thing advised, such as ("close", "airlock") or ("log", ""); None where no step
    of it is one to be written down;
    folded: findings that are consequences of this one; hushed_until: asleep till then.
    """

    rule: str
    batch: str
    severity: Severity
    says: str
    why: str
    do: tuple[str, ...]
    clears_when: str
    evidence: tuple[str, ...] = ()
    since: datetime | None = None
    missing: tuple[str, ...] = ()
    look_again: datetime | None = None
    action: tuple[str, str] | None = None
    folded: tuple[Finding, ...] = ()
    hushed_until: datetime | None = None

    @property
    def asleep(self) -> bool:
        """Whether it is hushed and out of sight; a danger stays in sight even when hushed."""
        return self.hushed_until is not None and self.severity is not Severity.DANGER

    @property
    def steps(self) -> tuple[str, ...]:
        """What to do, in order, numbered where it is more than one step."""
        if len(self.do) < 2:
            return self.do
        return tuple(f"{number}. {step}" for number, step in enumerate(self.do, 1))

    def told(self, now: datetime) -> list[tuple[str, str]]:
        """(label, text) of all but its head and what was seen, in the words of every page."""
        why, *others = self.reasons(now)
        return [why, *(("" if place else "do", step) for place, step in enumerate(self.steps)), *others]

    def reasons(self, now: datetime) -> list[tuple[str, str]]:
        """(label, text) of why it matters, and after that what is missing, what ends it and when to look again."""
        lines = [("why", self.why)]
        lines += [("missing", fact) for fact in self.missing]
        lines += [("clears", f"when {self.clears_when.removeprefix('when ')}")] if self.clears_when else []
        lines += [("look", f"again {moment(self.look_again, now)}")] if self.look_again else []
        if self.hushed_until:
            lines.append(("hushed", f"until {moment(self.hushed_until, now)}; a danger stays in sight"))
        return lines + [("with it", f"{other.says} ({other.rule})") for other in self.folded]

    def hushed(self, until: datetime) -> Finding:
        """The same finding, asleep until a time."""
        return self._replace(hushed_until=until)


def worst(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """The worst of one rule's findings about several bottlings, the newest of equals; one cause is one finding."""
    ranked = list(found)
    return (max(reversed(ranked), key=lambda finding: finding.severity),) if ranked else ()
