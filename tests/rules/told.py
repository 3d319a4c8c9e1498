"""What every story of every rule is told, word for word; to the minute from when to when; and by which figure it turns.

    python -m tests.rules.told      # writes tests/rules/told/*.txt again; read the difference before you commit it

A story says what must hold. This record says what does hold: a limit that moved by a day, a figure that is worked out
otherwise or a step that was left out shows as a line that changed, for somebody to agree to.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent / "told"
AHEAD_DAYS = (1, 3, 7, 14, 30, 60, 120, 400)
MINUTE = timedelta(minutes=1)
STEPS = {"gravity.value": 0.001, "must_c": 0.5, "air_c": 0.5, "ph": 0.05, "free_so2_mg_l": 1.0, "ta_g_l": 0.2}
REACH, FINE = 7, 9

if __name__ == "__main__":
    root = Path(__file__).parents[2]
    sys.path[:0] = [str(root / "src"), str(root / "tests")]

from rules.scenario import DAY_ZERO, Story, stories_of  # noqa: E402

from mustwatch.ledger.drafts import amended  # noqa: E402
from mustwatch.ledger.events import Event  # noqa: E402
from mustwatch.rules.catalogue import RULES  # noqa: E402
from mustwatch.rules.finding import Finding  # noqa: E402


def record_of(module: Any) -> str:
    """All that one rule says of its stories, and the numbers it goes by."""
    lines = [f"{module.RULE.name}: {module.RULE.severity.word}, in {' '.join(sorted(module.RULE.stages))}"]
    lines += [f"explains {' '.join(module.RULE.explains)}"] if module.RULE.explains else []
    for name, number in module.RULE.thresholds.items():
        lines.append(f"{name} = {number.default:g} {number.unit} ({number.low:g} to {number.high:g})")
    for story in stories_of(module.RULE.name):
        lines += ["", f"{story.sort}: {story.title}", *_told(story, module)]
    return "\n".join(lines) + "\n"


def _told(story: Story, module: Any) -> list[str]:
    found = story.found(module)
    lines = [line for finding in found for line in _finding(finding)] or ["    silent"]
    begins = _begins(story, module)
    so = [f"    so from {_time(begins)}"] if begins else []
    return [*lines, *so, *_goes_on(story, module), *_turns(story, module)]


def _finding(finding: Finding) -> list[str]:
    lines = [f"    {finding.severity.word} {finding.batch}: {finding.says}", f"    why: {finding.why}"]
    lines += [f"    do: {step}" for step in finding.do]
    lines += [f"    missing: {fact}" for fact in finding.missing]
    lines.append(f"    rests on: {', '.join(finding.evidence)}")
    if finding.since:
        lines.append(f"    since: {_time(finding.since)}")
    if finding.look_again:
        lines.append(f"    look again: {_time(finding.look_again)}")
    lines.append(f"    clears when {finding.clears_when} {finding.action or ''}".rstrip())
    return lines


def _worst(story: Story, module: Any, now: datetime) -> tuple[str, ...]:
    return tuple(finding.severity.word for finding in story.found(module, now))


def _begins(story: Story, module: Any) -> datetime | None:
    """The first minute after the last event from which it is so; None where it is so at once."""
    last = max(event.at for event in story.events if event.at <= story.at) if story.events else story.at
    there = _worst(story, module, story.at)
    if last >= story.at or _worst(story, module, last) == there:
        return None
    return _edge(story, module, last, story.at, there)


def _goes_on(story: Story, module: Any) -> list[str]:
    """The first change that time alone brings, to the minute."""
    before, here = story.at, _worst(story, module, story.at)
    for days in AHEAD_DAYS:
        later = story.at + timedelta(days=days)
        if (then := _worst(story, module, later)) != here:
            at = _edge(story, module, before, later, then)
            return [f"    then, left alone, {' and '.join(then) or 'silent'} from {_time(at)}"]
        before = later
    return []


def _turns(story: Story, module: Any) -> list[str]:
    """For each figure of the story, how much higher and how much lower it may be before another thing is said."""
    lines, here = [], _worst(story, module, story.at)
    for place, event in enumerate(story.events):
        for path, value in _figures(event):
            for way in (1.0, -1.0):
                turned = _turn(story, module, place, path, value, way, here)
                if turned is not None:
                    figure, then = turned
                    lines.append(f"    {' and '.join(then) or 'silent'} at {event.id} {path} {figure:.5g}")
    return lines


def _figures(event: Event) -> list[tuple[str, float]]:
    paths = [*STEPS, "g", "l", "volume_l", "vessel.capacity_l", "yeast.tolerance_abv", "count"]
    found = [(path, event) for path in paths]
    for place, (path, value) in enumerate(found):
        for part in path.split("."):
            value = getattr(value, part, None)
        found[place] = (path, value)
    return [(path, float(value)) for path, value in found if isinstance(value, int | float) and value > 0]


def _turn(
    story: Story, module: Any, place: int, path: str, value: float, way: float, here: tuple[str, ...]
) -> tuple[float, tuple[str, ...]] | None:
    """The figure, to a small share of a step, at which something else is said; None within reach of eight doublings."""
    near = value
    for doubling in range(REACH):
        far = value + way * STEPS[path] * 2**doubling if path in STEPS else value * 1.05 ** (way * 2**doubling)
        then = _with(story, module, place, path, far)
        if then is None:
            return None
        if then != here:
            for _ in range(FINE):
                middle = (near + far) / 2
                if _with(story, module, place, path, middle) == here:
                    near = middle
                else:
                    far = middle
            return far, _with(story, module, place, path, far) or ()
        near = far
    return None


def _with(story: Story, module: Any, place: int, path: str, value: float) -> tuple[str, ...] | None:
    try:
        changed = amended(story.events[place], {path: round(value) if path == "count" else value})
    except ValueError:
        return None
    events = [*story.events[:place], changed, *story.events[place + 1 :]]
    return _worst(replace(story, events=events), module, story.at)


def _edge(story: Story, module: Any, before: datetime, after: datetime, there: tuple[str, ...]) -> datetime:
    while after - before > MINUTE:
        middle = before + timedelta(minutes=(after - before) // MINUTE // 2)
        if _worst(story, module, middle) == there:
            after = middle
        else:
            before = middle
    return after


def _time(at: datetime) -> str:
    days = (at - DAY_ZERO) // timedelta(days=1)
    return f"day {days} {at:%H:%M}"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for old in FOLDER.glob("*.txt"):
        old.unlink()
    for rule in RULES:
        (FOLDER / f"{rule.RULE.name}.txt").write_text(record_of(rule), encoding="utf-8")
