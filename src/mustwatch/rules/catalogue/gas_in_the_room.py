"""The ferments of a room give off more carbon dioxide than its air can take.

What it looks for
    All batches in one place that move, their fall and their volume, against the room's cubic metres: more than nine
    grams a day for each cubic metre is 5,000 ppm after a day without any change of air. Three times as much in a
    small or low room, or one that people sleep in, is a danger, and so are 54 grams in any room. A batch of the
    first two weeks whose last reading is three days old counts for five points a day. Where the room's size is not
    recorded, it is reckoned by its name at the small end: a cupboard has 3 cubic metres, a cellar room 15, a room
    of no such name 20. What that could not take is told, and a danger where the place is named like a low, small or
    sleeping one. More than twenty litres at work in a room of unknown size are told in any case.

Why it matters
    Carbon dioxide has no smell, is heavier than air and gathers in cellars and cupboards. It poisons also where
    there is oxygen enough. At 1 % of the air people grow drowsy, at 3 % they breathe deeper and their head aches,
    at 5 % they are giddy and lose their judgement, and at 10 % they faint within minutes and die.

What to do
    Air first, and stay out until the air has changed: open doors and windows, and set a fan low at the floor. Do
    not sleep in that room. Do not bend down into a pit or a chest where ferments stand. Never go in after somebody
    who has fallen: call for help and let air in, or there will be two. A candle that burns proves nothing. One
    small jug is harmless in a normal room. Write the room's size into cellar.toml, under [places].

Source
    8-hour limit of 5,000 ppm: OSHA, 29 CFR 1910.1000, high confidence. Short-term limit of 30,000 ppm (54 g), and
    40,000 ppm as an immediate danger to life: NIOSH, high confidence. What each share of the air does: EIGA, Safety
    Info 24, "Carbon dioxide physiological hazards", from memory, medium confidence. Five points a day: slower is
    called sluggish in a handbook of home winemaking, medium confidence. One gravity point in a litre makes a gram
    of gas: stoichiometry, high confidence. Sizes of rooms by name: judgement, a small one of its kind, low
    confidence. The limits of the law differ by country.
"""

import re
from collections.abc import Sequence
from datetime import timedelta
from typing import NamedTuple

from mustwatch.judgement.state import earlier_verdicts
from mustwatch.ledger.events import Pitched
from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words
from mustwatch.said.figures import listed

RULE = Rule(
    name="gas-in-the-room",
    severity=Severity.DANGER,
    stages=FERMENTING_STAGES,
    thresholds={
        "grams": Threshold(9.0, 2.0, 30.0, "g a day in each m³", "more than this is too much for closed air"),
        "danger": Threshold(3.0, 1.5, 10.0, "times", "so many times that, in a small room, is a danger"),
        "small": Threshold(20.0, 2.0, 60.0, "m³", "a room up to this size is small"),
        "litres": Threshold(20.0, 5.0, 500.0, "L", "so much at work is worth a word where the room is not known"),
    },
)
GRAMS_PER_POINT = 0.99  # carbon dioxide from one gravity point in one litre: stoichiometry
MOST_GRAMS = 54.0  # a day in each m³: 30,000 ppm, the short-term limit; no threshold makes that mild
UNREAD_FALL = 5.0  # points a day of a young ferment that nobody read: slower is called sluggish, handbook
WAKES_AFTER = timedelta(hours=24)  # the lag takes 6 to 48 hours, common practice
READ_DAYS = 3.0  # a young ferment is read so often, common practice
YOUNG_DAYS = 14.0
LOW_PLACES = re.compile(
    r"cupboard|cellar|basement|crypt|vault|\bpit\b|chest|closet|wardrobe|pantry|larder|stairs|bed|sleep|nursery|dorm"
    r"|cabinet|caravan|camper|\bvan\b|boat|cabin",
    re.IGNORECASE,
)
STEADY = 0.8
ROOM_M3 = (  # a small one of its kind; judgement
    (re.compile(r"chest|fridge|freezer|\bbox\b", re.IGNORECASE), 0.5),
    (re.compile(r"cupboard|closet|wardrobe|cabinet|stairs", re.IGNORECASE), 3.0),
    (re.compile(r"pantry|larder|caravan|camper|\bvan\b|boat|\bpit\b", re.IGNORECASE), 6.0),
    (re.compile(r"bath|cabin|shed|crypt|vault|nursery", re.IGNORECASE), 10.0),
    (re.compile(r"cellar|basement|bed|sleep|dorm|utility", re.IGNORECASE), 15.0),
)


class Working(NamedTuple):
    """A batch at work, the carbon dioxide it gives off in grams a day, and the pitching it works from."""

    grams: float
    view: View
    pitched: Pitched


def check_cellar(views: Sequence[View]) -> Findings:
    """One finding a room, given to the batch that has been at work there the longest."""
    rooms: dict[str | None, list[Working]] = {}
    for view in views:
        pitched = view.batch.pitched
        if pitched is None or view.batch.stage_in_vessel not in FERMENTING_STAGES:
            continue
        if (grams := grams_a_day(view)) > 0:
            rooms.setdefault(view.batch.place, []).append(Working(grams, view, pitched))
    for place, working in rooms.items():
        size = working[0].view.settings.places.get(place) if place else None
        if size is None:
            yield from _unmeasured(place, working)
        else:
            yield from _measured(place or "", size, working)


def size_by_name(place: str | None) -> float:
    """Cubic metres of a small room of such a name, where its size is not recorded."""
    named = (size for pattern, size in ROOM_M3 if place and pattern.search(place))
    return next(named, RULE.thresholds["small"].default)


def grams_a_day(view: View) -> float:
    """Carbon dioxide a batch gives off in a day, in grams; 0 when it does not move.

    Where the volume is not known it counts as full; where the size of the vessel is not known either, 0.
    """
    verdict, volume_l = view.verdict, view.batch.volume_l or view.batch.capacity_l
    if not volume_l:
        return 0.0
    if unread(view):
        return UNREAD_FALL * volume_l * GRAMS_PER_POINT
    if verdict.state not in ("moving", "sluggish") or not verdict.fall:
        return 0.0
    return max(0.0, verdict.fall) * volume_l * GRAMS_PER_POINT


def unread(view: View) -> bool:
    """Whether it is young, should be at work, and no fresh reading tells whether it is."""
    batch, pitched = view.batch, view.batch.pitched
    if view.verdict.state not in ("lag", "undecided") or pitched is None or view.now - pitched.at < WAKES_AFTER:
        return False
    read = batch.latest.at if batch.latest is not None else pitched.at
    return words.days(view, pitched.at) <= YOUNG_DAYS and (read <= pitched.at or words.days(view, read) > READ_DAYS)


def _before(view: View) -> float:
    """Grams of carbon dioxide a day, as they were one reading earlier."""
    earlier = earlier_verdicts(view.batch, view.settings, 1)
    return next(
        (grams_a_day(view._replace(batch=batch, verdict=seen, now=batch.readings[-1].at)) for batch, seen in earlier),
        0.0,
    )


def _speaker(working: list[Working]) -> View:
    """The batch that carries the finding: one it was hushed on, else the one longest at work, so that it stays put."""
    hushed = [each for each in working if any(hush.rule == RULE.name for hush in each.view.batch.hushes)]
    return min(hushed or working, key=lambda each: (each.pitched.at, each.view.batch.tag)).view


def _severity(place: str, size: float, working: list[Working]) -> Severity | None:
    """How bad what they give off is for a room of this size, None where it can take it."""
    total = sum(each.grams for each in working) / size
    view = _speaker(working)
    limit = RULE.number(view, "grams")
    # Between four fifths of the limit and the limit, what was said stays said.
    if total <= limit and (total <= limit * STEADY or sum(_before(each.view) for each in working) / size <= limit):
        return None
    cramped = size <= RULE.number(view, "small") or LOW_PLACES.search(place)
    danger = total > MOST_GRAMS or (cramped and total > limit * RULE.number(view, "danger"))
    return Severity.DANGER if danger else Severity.WATCH


def _measured(place: str, size: float, working: list[Working]) -> Findings:
    severity = _severity(place, size, working)
    if severity is not None:
        yield _finding(severity, f"go into {place} ({size:g} m³)", size, working)


def _unmeasured(place: str | None, working: list[Working]) -> Findings:
    litres = sum(each.view.batch.volume_l or each.view.batch.capacity_l or 0.0 for each in working)
    size = size_by_name(place)
    severity = _severity(place or "", size, working)
    # Where nobody knows the room, only a name tells of a small one.
    if severity is not None and not (place and LOW_PLACES.search(place)):
        severity = Severity.WATCH if litres > RULE.number(_speaker(working), "litres") else None
    if severity is None and litres > RULE.number(_speaker(working), "litres"):
        severity = Severity.NOTE
    if severity is None:
        return
    room = (
        f"go into {place}, taken for a small one of {size:g} m³" if place else f"go into a room taken for {size:g} m³"
    )
    missing = f"the size of {place} in cubic metres" if place else "where these batches stand, and the room's size"
    yield _finding(severity, room, size, working, (RULE.cannot_judge(missing, "a small room without a change of air"),))


def _unread_facts(working: list[Working]) -> tuple[str, ...]:
    tags = [each.view.batch.tag for each in working if unread(each.view)]
    return (f"a fresh gravity of {listed(tags)}; {UNREAD_FALL:.0f} points a day are assumed",) if tags else ()


def _finding(
    severity: Severity, where: str, size: float, working: list[Working], missing: tuple[str, ...] = ()
) -> Finding:
    view = _speaker(working)
    total = sum(each.grams for each in working)
    newest = max(each.view.verdict.since or each.view.now for each in working)
    return RULE.found(
        view,
        severity,
        f"About {words.grams(round(total))} of carbon dioxide a day {where}. That is {words.grams(round(total / size))}"
        f" for each cubic metre, and {RULE.number(view, 'grams'):g} is the limit for air that does not change.",
        why="Carbon dioxide has no smell and gathers low down. At 5 % of the air people lose their judgement, at 10 %"
        " they faint within minutes.",
        do=(
            "Open doors and windows first. Stay out until the air has changed.",
            "Set a fan low at the floor.",
            "Do not sleep in that room. Do not bend down into a pit or chest.",
            "Never go in after somebody who has fallen. Call for help, and let air in.",
        ),
        clears_when="the ferments slow down, or the batches are spread over more rooms.",
        evidence=tuple(id_ for each in working for id_ in each.view.verdict.evidence[-1:] or (each.pitched.id,)),
        since=newest,
        missing=(*missing, *_unread_facts(working)),
        look_again=look_in(view, 1),
    )
