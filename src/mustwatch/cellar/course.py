"""The course of a batch cut into stretches: what was done to it between readings, and the sugar fed on the way."""

from collections import deque
from collections.abc import Sequence
from datetime import datetime

from mustwatch.cellar.batch import Reading, Stretch
from mustwatch.ledger.events import Added, Event, Mixed, Pitched, Racked, Read

SUGARS = frozenset({"honey", "sugar", "juice", "fruit"})
SUGAR_SHARE = {"honey": 0.80, "sugar": 1.0, "juice": 0.10, "fruit": 0.09}  # typical, by mass; common practice
POINTS_PER_G_L = 0.385  # gravity points for one gram of sugar a litre, from sucrose density near 10 %
HONEY_KG_PER_L = 1.42


def cut_of(event: Event, pitched_already: bool) -> str | None:
    """The word for what an event does to the course, or None when the course goes on through it."""
    if isinstance(event, Pitched):
        return "repitched" if pitched_already else "pitched"
    if isinstance(event, Racked):
        return "racked"
    if isinstance(event, Added):
        if event.category in SUGARS:
            return "sugar"
        if event.category in {"sulfite", "sorbate"}:
            return "stabilised"
        return {"water": "water", "yeast": "repitched"}.get(event.category)
    return None


def mixings_on_top(turns: Sequence[Event]) -> tuple[Mixed, ...]:
    """The mixings that came on top of what was there, in the order of the story: it holds sugar again.

    The first is the beginning, though older days were written down after it: who registers a batch that is under way
    mixes it today and dates the rest back.
    """
    found: list[Mixed] = []
    mixed = False
    for place, event in enumerate(turns):
        if isinstance(event, Mixed):
            if mixed or any(earlier.id < event.id for earlier in turns[:place]):
                found.append(event)
            mixed = True
    return tuple(found)


def beginning_first(events: Sequence[Event], on_top: Sequence[Mixed]) -> list[Event]:
    """The events with the mixing that began it at their head, wherever it is dated: what was done to it came after."""
    again = {mixing.id for mixing in on_top}
    return sorted(events, key=lambda event: not isinstance(event, Mixed) or event.id in again)


def stretches_of(
    turns: Sequence[Event], readings: Sequence[Reading], began: datetime | None, on_top: Sequence[Mixed] = ()
) -> tuple[Stretch, ...]:
    """The stretches of a story that began then, oldest first; readings before the first cut open one named `start`.

    turns: the readings and the events that may cut the course, in the order of the story. What happened at one
    instant keeps the order in which it was written down: a diary often knows the day alone. on_top: see
    `mixings_on_top`.
    """
    if not readings and not any(cut_of(event, False) not in (None, "pitched") for event in turns):
        return ()
    first = min(moment for moment in (began, readings[0].at if readings else None) if moment is not None)
    parts: list[tuple[datetime, str, str | None, list[Reading]]] = [(first, "start", None, [])]
    left = deque(readings)
    again = {mixing.id for mixing in on_top}
    pitched = False
    for event in turns:
        if event.id in again:
            parts.append((event.at, "sugar", event.id, []))
        elif isinstance(event, Read):
            if left and left[0].id == event.id:
                parts[-1][3].append(left.popleft())
        elif word := cut_of(event, pitched):
            # The start reading is taken just before or with the pitching; it opens the course that follows.
            if word != "pitched":
                parts.append((event.at, word, event.id, []))
            pitched = pitched or word == "pitched"
    return tuple(Stretch(since, word, evidence, tuple(inside)) for since, word, evidence, inside in parts)


def fed_points(stretches: Sequence[Stretch], additions: Sequence[Added], volume_l: float | None) -> float:
    """Gravity points fed after the start: by the readings around each feeding, else by the mass added.

    Where neither tells, the feeding counts nothing here and the rules name the missing mass.
    """
    by_id = {event.id: event for event in additions}
    total = 0.0
    before: Reading | None = None
    for stretch in stretches:
        if stretch.cut == "sugar":
            by_mass = mass_points(by_id.get(stretch.evidence or ""), volume_l)
            by_reading = _rise(before, stretch)
            total += max(by_mass if by_mass is not None else 0.0, by_reading or 0.0, 0.0)
        if stretch.readings:
            before = stretch.readings[-1]
    return total


def _rise(before: Reading | None, stretch: Stretch) -> float | None:
    if before is None or not stretch.readings:
        return None
    return (stretch.readings[0].sg - before.sg) * 1000


def mass_points(added: Added | None, volume_l: float | None) -> float | None:
    """Gravity points that an addition of sugar, honey, juice or fruit brings to a volume, None without its mass."""
    if added is None or not volume_l:
        return None
    grams = added.g
    if grams is None and added.l is not None:
        grams = added.l * 1000 * (HONEY_KG_PER_L if added.category == "honey" else 1.04)
    if grams is None:
        return None
    return grams * SUGAR_SHARE.get(added.category, 0.0) * POINTS_PER_G_L / volume_l


def grams_for(points: float, volume_l: float, category: str) -> float:
    """Grams of honey, sugar, juice or fruit that bring so many gravity points to a volume.

    >>> round(grams_for(10, 4.0, "honey"))
    130
    """
    return points * volume_l / (SUGAR_SHARE[category] * POINTS_PER_G_L)


def estimated_start(mixed: Mixed | None) -> float | None:
    """Start gravity from the recipe, about 10 points either way; None without the honey's mass and the volume."""
    if mixed is None or not mixed.volume_l:
        return None
    sugar_g = 0.0
    for part in mixed.ingredients:
        share = part.sugar_pct / 100 if part.sugar_pct is not None else SUGAR_SHARE.get(part.category)
        if share is None:
            continue
        mass = (
            part.kg if part.kg is not None else (part.l or 0) * (HONEY_KG_PER_L if part.category == "honey" else 1.04)
        )
        sugar_g += mass * 1000 * share
    return 1 + sugar_g * POINTS_PER_G_L / mixed.volume_l / 1000 if sugar_g else None
