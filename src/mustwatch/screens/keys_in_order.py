"""Keys taken one after the other, however fast they come.

A key travels from the field it was typed in up to the program before what it means is known. On a slow machine
the next keys would already have gone to the old field: a temperature typed after a tab would end up in the gravity.
So each key waits until the one before it has done its work.
"""

from collections import deque
from typing import Any

from textual.app import App
from textual.events import Event, Key, Paste

SHORT_WAIT = 0.01
LONGEST_WAIT = 1.0  # seconds; a widget that went away while a key was under way must not hold up all others


class KeysInOrder(App[None]):
    """An app in which no key overtakes another. Keys are held from the start until `release_keys`."""

    def __init__(self, **keys: Any) -> None:
        super().__init__(**keys)
        self._waiting: deque[Event] = deque()
        self._held = True
        self._under_way = 0
        self._count = 0

    def release_keys(self) -> None:
        """Lets keys through: all that they may act on is there."""
        self._held = False
        self.call_later(self._take_next)

    async def on_event(self, event: Event) -> None:
        """Takes keys and pastes in their order, everything else at once."""
        if isinstance(event, Key | Paste) and not event.is_forwarded:
            self._waiting.append(event)
            await self._take_next()
        else:
            await super().on_event(event)

    async def _take_next(self) -> None:
        if self._held or self._under_way or not self._waiting:
            return
        if not self.screen.is_mounted:
            self.set_timer(SHORT_WAIT, self._take_next)
            return
        self._count += 1
        self._under_way = number = self._count
        target = self.focused or self.screen
        await super().on_event(self._waiting.popleft())
        self.set_timer(LONGEST_WAIT, lambda: self._done(number))
        way = [*(node for node in target.ancestors_with_self if node is not self), self]
        # Twice: on the first way up the key finds out what it means, on the second its messages are dealt with.
        self._follow([*way, *way], number)

    def _follow(self, way: list, number: int) -> None:
        """Follows the key from widget to widget: each has dealt with it when it gets to this call."""
        while way:
            if way.pop(0).call_later(self._follow, way, number):
                return
        self._done(number)

    def _done(self, number: int) -> None:
        if self._under_way == number:
            self._under_way = 0
            if self._waiting:
                self.call_later(self._take_next)
