"""A story sorted by kind of event, once, so that each question walks only what it asks about."""

from collections import defaultdict
from collections.abc import Sequence
from operator import itemgetter
from typing import TypeVar

from mustwatch.ledger.events import Event

E = TypeVar("E", bound=Event)


class Kinds:
    """The events of a story by kind, each in the order they happened."""

    def __init__(self, story: Sequence[Event]) -> None:
        self._by_kind: defaultdict[type, list[tuple[int, Event]]] = defaultdict(list)
        for place, event in enumerate(story):
            self._by_kind[type(event)].append((place, event))

    def all(self, kind: type[E]) -> tuple[E, ...]:
        """All events of one kind."""
        return tuple(event for _, event in self._by_kind.get(kind, ()))  # type: ignore[misc]

    def first(self, kind: type[E]) -> E | None:
        """The first event of a kind."""
        found = self._by_kind.get(kind)
        return found[0][1] if found else None  # type: ignore[return-value]

    def last(self, kind: type[E]) -> E | None:
        """The last event of a kind."""
        found = self._by_kind.get(kind)
        return found[-1][1] if found else None  # type: ignore[return-value]

    def among(self, *kinds: type[Event]) -> list[Event]:
        """The events of several kinds, in the order they happened."""
        rows = [row for kind in kinds for row in self._by_kind.get(kind, ())]
        rows.sort(key=itemgetter(0))
        return [event for _, event in rows]
