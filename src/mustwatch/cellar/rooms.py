"""The air of a room as the air of every batch that stands in it, where a probe watches the room. Pure."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import timedelta

from mustwatch.cellar.batch import Temperature
from mustwatch.ledger.events import Event, Moved, Read

OWN_FIRST = timedelta(hours=12)  # a must that was measured so near in time speaks for itself
Airs = Mapping[str, Sequence[Temperature]]


def airs_of(notes: Iterable[Event]) -> dict[str, list[Temperature]]:
    """Place -> the temperatures of its air, in the order of their times."""
    found: dict[str, list[Temperature]] = defaultdict(list)
    for event in notes:
        if isinstance(event, Read) and event.place and event.air_c is not None:
            found[event.place].append(Temperature(event.id, event.at, event.air_c, of_air=True))
    return dict(found)


def around(story: Sequence[Event], airs: Airs) -> tuple[Temperature, ...]:
    """The temperatures of the air around a batch, while it stood in each place."""
    if not airs:
        return ()
    moves = [event for event in story if isinstance(event, Moved) and event.place]
    found: list[Temperature] = []
    for number, move in enumerate(moves):
        air = airs.get(move.place, ())
        times = [temperature.at for temperature in air]
        until = moves[number + 1].at if number + 1 < len(moves) else None
        end = len(air) if until is None else bisect_left(times, until)
        found += air[bisect_left(times, move.at) : end]
    return tuple(found)


def with_room(own: Sequence[Temperature], room: Sequence[Temperature]) -> tuple[Temperature, ...]:
    """A batch's own temperatures and those of the room, where no own one is near in time."""
    if not room:
        return tuple(own)
    times = [temperature.at for temperature in own if not temperature.of_air]
    lone = [
        air for air in room
        if bisect_left(times, air.at - OWN_FIRST) == bisect_right(times, air.at + OWN_FIRST)
    ]  # fmt: skip
    return tuple(sorted([*own, *lone], key=lambda temperature: temperature.at))
