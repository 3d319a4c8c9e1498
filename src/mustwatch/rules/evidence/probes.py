"""What became of the probes: the newest state of each that is still set to watch here, and when it last spoke."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import NamedTuple

from mustwatch.ledger.events import Event, Probed, Read
from mustwatch.rules.view import View


class State(NamedTuple):
    """A probe: its name, the room it is in, the event of its newest state, its last reading."""

    name: str
    place: str | None
    told: Probed | None = None
    read: Read | None = None

    @property
    def word(self) -> str:
        """lost, stuck, absurd or well."""
        return self.told.state if self.told else "well"

    @property
    def last(self) -> datetime | None:
        """When it last spoke, in a reading or a word on its state."""
        return max((event.at for event in (self.told, self.read) if event), default=None)


def of_batch(view: View) -> list[State]:
    """The probes of the batch in view."""
    if not view.settings.feeds.get("probes"):
        return []
    return [state for state in _states(view.batch.story) if _set(view, state, view.batch.tag)]


def of_places(views: Sequence[View]) -> Iterable[tuple[View, State]]:
    """The probes of rooms, each with a batch that stands there, or the first where none does."""
    if not views or not views[0].settings.feeds.get("probes"):
        return
    for state in _states(views[0].notes):
        if _set(views[0], state, None):
            there = [view for view in views if view.batch.place == state.place and view.batch.active]
            yield (there or list(views))[0], state


def _set(view: View, state: State, tag: str | None) -> bool:
    """Whether cellar.toml still has the probe watch here: one taken away is not lost."""
    own = view.settings.feeds.get("probes", {})
    probe = own.get(state.name) if isinstance(own, dict) else None
    return isinstance(probe, dict) and probe.get("batch") == tag


def _states(events: Iterable[Event]) -> list[State]:
    found: dict[str, State] = {}
    for event in events:
        if isinstance(event, Probed):
            before = found.get(event.probe)
            found[event.probe] = State(event.probe, event.place, event, before.read if before else None)
        elif isinstance(event, Read) and event.probe is not None:
            before = found.get(event.probe)
            found[event.probe] = State(event.probe, event.place, before.told if before else None, event)
    return list(found.values())
