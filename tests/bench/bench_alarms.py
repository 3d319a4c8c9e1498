"""How much the rules say: in a year of fifty healthy batches, and over the real logs, reading by reading.

    python -m tests.bench.bench_alarms [batches, default 50] [--list]

Prints how many findings were raised by severity, how many a day, the longest list of one day, and by which
rules; then the same for the logs, per week of a batch. Exits with 1 where a bar is missed: no danger in a healthy
cellar nor on a log under an airlock, no more than three findings at today or worse on one day, and on a healthy
log at most one finding below today a week.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

if __package__ != "tests.bench":  # run as a file, or asked by a test
    sys.path.insert(0, str(Path(__file__).parents[2]))

from mustwatch.cellar.fold import Cellar, fold
from mustwatch.ledger.settings import Settings
from mustwatch.rules.engine import Cache, judge_cellar
from mustwatch.rules.finding import Finding, Severity
from tests.bench import healthy_cellar
from tests.bench.logs import Log, logs
from tests.bench.replay import story_of

SETTINGS = Settings()
MOST_A_DAY = 3
WORST_FIRST = tuple(sorted(Severity, reverse=True))


@dataclass
class Tally:
    """What was said over a time. raised: new findings; shown: findings on each day's list."""

    raised: Counter[tuple[str, Severity]] = field(default_factory=Counter)
    lists: list[tuple[datetime, int, int]] = field(default_factory=list)
    standing: set[tuple[str, str, Severity]] = field(default_factory=set)
    examples: dict[tuple[str, Severity], str] = field(default_factory=dict)

    def look(self, now: datetime, found: Iterable[Finding]) -> None:
        """One look: which findings are new, and how long the list is."""
        shown = list(found)
        keys = {(finding.batch, finding.rule, finding.severity) for finding in shown}
        for finding in shown:
            if (finding.batch, finding.rule, finding.severity) not in self.standing:
                kind = (finding.rule, finding.severity)
                self.raised[kind] += 1
                self.examples.setdefault(kind, f"{now:%m-%d} {finding.batch}: {finding.says}")
        self.standing = keys
        self.lists.append((now, len(shown), sum(finding.severity >= Severity.TODAY for finding in shown)))

    def by_severity(self) -> dict[Severity, int]:
        """How many findings were raised, by severity."""
        return {
            severity: sum(count for (_, own), count in self.raised.items() if own is severity)
            for severity in WORST_FIRST
        }

    def lines(self) -> list[str]:
        """Which rules spoke, how often, with an example."""
        return [
            f"  {severity.word:6} {rule:26} {count:4}  {self.examples[rule, severity][:150]}"
            for (rule, severity), count in sorted(self.raised.items(), key=lambda item: (-item[0][1], -item[1]))
        ]


def year(batches: int, terse: bool = False) -> Tally:
    """A year of healthy batches, looked at every evening; terse: kept by one who writes down little."""
    events = healthy_cellar.events_of(batches, terse)
    tally, cellar, cache, place = Tally(), None, Cache(), 0
    for now in healthy_cellar.looks():
        while place < len(events) and events[place].at <= now:
            place += 1
        cellar = fold(events[:place], SETTINGS, now, cellar)
        tally.look(now, [one for one in judge_cellar(cellar, now, cache) if not one.asleep])
    return tally


@dataclass
class Replay:
    """One log, played reading by reading: what was raised, and over how many weeks."""

    log: Log
    weeks: float
    tally: Tally


def played(log: Log) -> Replay:
    """The log's batch under an airlock, judged at every reading."""
    events, times = story_of(log)
    tally = Tally()
    for now in times:
        cellar: Cellar = fold([event for event in events if event.at <= now], SETTINGS, now)
        tally.look(now, [one for one in judge_cellar(cellar, now) if not one.asleep])
    return Replay(log, max((times[-1] - times[0]) / timedelta(weeks=1), 1.0), tally)


def healthy(log: Log) -> bool:
    """Whether the log came to its end without a stall."""
    return log["outcome"] == "finished"


def misses_of_year(tally: Tally) -> list[str]:
    """The bars a healthy year missed, in words."""
    worst = max(tally.lists, key=lambda entry: entry[2])
    danger = tally.by_severity()[Severity.DANGER]
    found = [f"{danger} dangers in a healthy cellar"] if danger else []
    if worst[2] > MOST_A_DAY:
        found.append(f"{worst[2]} findings at today or worse on {worst[0]:%Y-%m-%d}")
    return found


def misses_of_logs(replays: Iterable[Replay]) -> list[str]:
    """The bars the logs missed, in words."""
    found = []
    for replay in replays:
        said = replay.tally.by_severity()
        if said[Severity.DANGER]:
            found.append(f"log {replay.log['id']}: danger under an airlock")
    return found + _misses_below(list(replays))


def below_today_a_week(replays: Iterable[Replay]) -> float:
    """Findings below today that healthy logs raised, a week of a batch."""
    chosen = [replay for replay in replays if healthy(replay.log)]
    said = sum(n for r in chosen for severity, n in r.tally.by_severity().items() if severity < Severity.TODAY)
    return said / sum(replay.weeks for replay in chosen)


def _misses_below(replays: list[Replay]) -> list[str]:
    rate = below_today_a_week(replays) if any(healthy(replay.log) for replay in replays) else 0.0
    return [f"{rate:.2f} findings below today a week on healthy logs"] if rate > 1 else []


def main(words: list[str]) -> int:
    """Prints both studies; 1 where a bar is missed."""
    batches = next((int(word) for word in words if word.isdigit()), 50)
    tally = year(batches)
    print(f"A year of {batches} healthy batches, looked at every evening")
    _print(tally, "--list" in words)
    misses = misses_of_year(tally)
    little = year(batches, terse=True)
    print("The same, kept by one who writes down little")
    _print(little, "--list" in words)
    misses += misses_of_year(little)
    real = logs()
    if not real:
        print("The logs are not beside this project: their replay is left out.")
    else:
        replays = [played(log) for log in real]
        _print_logs(replays, "--list" in words)
        misses += misses_of_logs(replays)
    for miss in misses:
        print(f"MISSED: {miss}")
    return int(bool(misses))


def _print(tally: Tally, listed: bool) -> None:
    said = tally.by_severity()
    whole = sum(said.values()) or 1
    print("  raised: " + ", ".join(f"{n} {severity.word} ({100 * n / whole:.0f} %)" for severity, n in said.items()))
    days = len(tally.lists)
    print(f"  new a day {whole / days:.2f}, longest list {max(n for _, n, _ in tally.lists)},", end=" ")
    print(f"most at today or worse on one day {max(n for _, _, n in tally.lists)}")
    if listed:
        print("\n".join(tally.lines()))


def _print_logs(replays: list[Replay], listed: bool) -> None:
    weeks = sum(replay.weeks for replay in replays)
    together = Tally()
    for replay in replays:
        together.raised.update(replay.tally.raised)
        for kind, text in replay.tally.examples.items():
            together.examples.setdefault(kind, f"[{replay.log['id']}] {text}")
    said = together.by_severity()
    print(f"{len(replays)} real logs over {weeks:.0f} batch-weeks")
    print("  a batch-week: " + ", ".join(f"{n / weeks:.2f} {severity.word}" for severity, n in said.items()))
    print(f"  below today, a week of a healthy log: {below_today_a_week(replays):.2f}")
    if listed:
        print("\n".join(together.lines()))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
