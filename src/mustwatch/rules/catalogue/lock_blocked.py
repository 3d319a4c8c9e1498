"""Foam, fruit or pressure is in the airlock, and gas may not get out.

What it looks for
    A look that found foam in the airlock, or words of a look such as blocked, plugged, domed, bulging or popped off,
    with no later look that found it free, no cleaning and no new closure. With fruit in the vessel, or a lid that
    bulges, it is a danger.

Why it matters
    A plugged airlock is a sealed vessel. Dried foam has domed lids, and jugs have burst.

What to do
    Turn the airlock away from people and lift it out slowly. Put on a wide tube that leads into water, or a clean
    cloth, until the foam is over. Clean the lock and fill it again.

Source
    Common practice, several burst vessels on record, high confidence.
"""

import re

from mustwatch.judgement.spoken import speaks
from mustwatch.ledger.events import Seen
from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.evidence.vessel import fruit_in_since
from mustwatch.rules.rule import VESSEL_STAGES, Finding, Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="lock-blocked", severity=Severity.DANGER, stages=VESSEL_STAGES, explains=("too-full",))
BLOCKED = re.compile(r"\b(blocked|clogged|plugged|jammed)\b", re.IGNORECASE)
BULGING = re.compile(r"\b(domed|bulging|swollen)\b", re.IGNORECASE)


def check(view: View) -> Findings:
    """A finding when looks found the lock foamed, blocked or the lid bulging, and none since found it free."""
    run: list[Seen] = []
    for look in view.batch.story:
        if not isinstance(look, Seen):
            continue
        airlock = look.airlock
        if airlock == "foamed" or _bulges(view, look) or (airlock != "bubbling" and _is_blocked(view, look)):
            run.append(look)
        elif airlock is not None:
            # Only bubbles show that gas comes out; a still airlock under a bulging lid is the worst of all.
            run = [] if airlock == "bubbling" else [one for one in run if _bulges(view, one)]
    eased = [event.at for event in view.batch.story if event.kind in ("closed", "racked", "poured_back", "cleaned")]
    run = [look for look in run if not any(at > look.at for at in eased)]
    if run:
        yield _finding(view, next((look for look in reversed(run) if _bulges(view, look)), run[-1]))


def _bulges(view: View, look: Seen) -> bool:
    return _names(view, look, BULGING, "lid")


def _is_blocked(view: View, look: Seen) -> bool:
    return _names(view, look, BLOCKED, "lock")


def _names(view: View, look: Seen, pattern: re.Pattern[str], topic: str) -> bool:
    text = " ".join((*look.signs, look.note or "")).strip()
    return bool(text) and (says(text, pattern) or speaks(view.batch, look.at, text, topic))


def _finding(view: View, look: Seen) -> Finding:
    fruit = fruit_in_since(view.batch)
    bulging, blocked = _bulges(view, look), _is_blocked(view, look)
    worst = bulging or blocked or fruit is not None
    what = "The lid or bung was seen bulging" if bulging else "The airlock was seen blocked"
    if not (bulging or blocked):
        what = "Foam was seen in the airlock"
    with_fruit = ", and there is fruit in the vessel that can plug it" if fruit else ""
    return RULE.found(
        view,
        Severity.DANGER if worst else Severity.TODAY,
        f"{what} on {words.date(view, look.at)}{with_fruit}.",
        why="A plugged airlock is a sealed vessel, and glass that is sealed on a live ferment can burst.",
        do=(
            "Protect your eyes. Turn the airlock away from people, and lift it out slowly.",
            "Put on a wide tube that leads into water until the foam is over.",
            "Clean the airlock and fill it again.",
        ),
        clears_when="a look finds the airlock free, or it was cleaned or changed and that is recorded.",
        evidence=(look.id, fruit[1] if fruit else None),
        since=look.at,
        missing=() if view.batch.headspace_l is not None else ("how full the vessel is",),
        look_again=look_in(view, 0.5),
        action=("close", "blow-off"),
    )
