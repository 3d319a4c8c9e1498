"""What every command is given: the cellar, the time, and where words go."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mustwatch.commands import door
from mustwatch.said.dates import day

if TYPE_CHECKING:
    from mustwatch.cellar.fold import Cellar
    from mustwatch.deeds.deed import Ground
    from mustwatch.ledger.events import Event
    from mustwatch.ledger.settings import Settings
    from mustwatch.ledger.store import Contents, Ledger
    from mustwatch.ledger.trouble import Trouble as FileTrouble
    from mustwatch.rules.engine import Cache
    from mustwatch.rules.finding import Finding
    from mustwatch.said.live import Live
    from mustwatch.said.troubles import Trouble

DONE, FOUND, BAD_USE, NOT_SAVED = 0, 1, 2, 3


class Refused(Exception):
    """What was asked cannot be done; its text is the one line for the user. Ends with exit status 2."""


class Context:
    """The shell around one command: it alone reads the clock and the disk.

    asked_now: the time given by --now; then, and in a cellar with a pinned date, nothing may be written.
    saved: how many events are on disk through it, so that a later mishap is not taken for a lost entry.
    """

    def __init__(self, cellar: Path, asked_now: datetime | None, clock: Callable[[], datetime]) -> None:
        self.cellar = cellar
        self.asked_now = asked_now
        self._clock = clock
        self.saved = 0
        self._view: Cellar | None = None
        self._events: tuple[Event, ...] = ()
        self._damage: tuple[FileTrouble, ...] = ()
        self._tells_troubles = False

    @property
    def has_cellar(self) -> bool:
        """Whether there is a cellar where this context looks."""
        return (self.cellar / "cellar.toml").is_file() or (self.cellar / "events").is_dir()

    @cached_property
    def ledger(self) -> Ledger:
        """The ledger of the cellar. Raises Refused when there is no cellar there."""
        from mustwatch.ledger.store import Ledger

        if not self.has_cellar:
            from mustwatch.ledger.visible import visible

            raise Refused(
                f"no cellar at {visible(str(self.cellar))}: make one with `mustwatch init`, or name it with --cellar"
            )
        return Ledger(self.cellar)

    def settled(self) -> tuple[Settings, str]:
        """The settings as the file has them now, and what is wrong with it: then the defaults count."""
        from mustwatch.ledger.settings import settled

        return settled(self.ledger.settings_text, _check_thresholds)

    @cached_property
    def _settled(self) -> tuple[Settings, str]:
        settings, fault = self.settled()
        if fault and not self._tells_troubles:
            from mustwatch.ledger.visible import visible

            self.err(f"{visible(fault)}; default settings count until it is mended")
        return settings, fault

    @property
    def settings(self) -> Settings:
        """The cellar's settings; the defaults where they are faulty, and that is told."""
        return self._settled[0]

    @property
    def looked_at(self) -> datetime | None:
        """The moment the cellar is looked back at: that of --now, else its pinned date; None for the present."""
        return self.asked_now or self.settings.pinned

    @property
    def now(self) -> datetime:
        """The time of the look: as asked, else the clock, or the newest entry where the clock is behind that."""
        return self.looked_at or self.cellar_view().now

    @property
    def clock_now(self) -> datetime:
        """The machine's own time, whatever the cellar is pinned to."""
        return self._clock()

    @property
    def read_only(self) -> str | None:
        """Why nothing may be written, or None."""
        if self.asked_now is not None:
            return "looking back with --now is read-only"
        if self.settings.pinned is not None:
            pinned = day(self.settings.pinned, self._clock())
            return f"this cellar is pinned to {pinned} in its cellar.toml and is read-only"
        return None

    def contents(self) -> Contents:
        """What the ledger holds; in a look back a thermometer's readings up to then are condensed by themselves."""
        return self.ledger.read(until=self.looked_at)

    def folded(self, contents: Contents, before: Cellar | None = None, settings: Settings | None = None) -> Cellar:
        """The cellar of this ledger, as the look is asked for. before: an earlier fold, for what did not change."""
        from mustwatch.cellar.fold import fold
        from mustwatch.cellar.lost import salvaged
        from mustwatch.ledger.reader import without_collector

        at, settings = self.looked_at, settings or self.settings
        lost = [one for trouble in contents.troubles if (one := salvaged(trouble))]
        with without_collector():
            return fold(contents.events, settings, at or self._clock(), before, lost=lost, live=at is None)

    def cellar_view(self) -> Cellar:
        """The folded cellar as it stands now; how many troubles it has goes to standard error, in one line.

        Read once, and again only after something was saved: a command looks at one moment.
        """
        if self._view is not None:
            return self._view
        contents = self.contents()
        self._events = contents.events
        self._view = self.folded(contents)
        self._damage = self.damage(contents, self._view)
        if self._tells_troubles:
            return self._view
        if count := len(self._damage) + len(self._view.refused):
            from mustwatch.ledger.visible import counted

            self.err(f"ledger: {counted(count, 'trouble')}; `mustwatch verify` names them")
        if self._view.is_clock_behind:
            from mustwatch.said.troubles import clock_behind

            self.err(clock_behind(self._view).says)
        return self._view

    def events(self) -> tuple[Event, ...]:
        """Every event of the cellar, in ledger order, before corrections."""
        self.cellar_view()
        return self._events

    def damage(self, contents: Contents, view: Cellar) -> tuple[FileTrouble, ...]:
        """What is wrong with the files, and what one held once, by what was seen of it, and holds no more."""
        from mustwatch.ledger.events import Witnessed

        notes = [event for event in contents.events if isinstance(event, Witnessed)]
        return (*contents.troubles, *self.ledger.missing(notes, contents.troubles))

    def troubles(self, *, files: bool = True) -> tuple[Trouble, ...]:
        """What is wrong with clock, settings, files and what stands in them, for a command that tells it itself."""
        from mustwatch.said.troubles import troubles_of

        self._tells_troubles = True
        view = self.cellar_view()
        return troubles_of(view, self._damage if files else (), self._settled[1])

    def ground(self, tag: str | None) -> Ground:
        """What a deed is done to: the batch in the cellar as it stands."""
        from mustwatch.deeds.deed import Ground
        from mustwatch.rules.engine import Cache

        cellar = self.cellar_view()
        return Ground(tag, cellar, self.clock_now, self._events, Cache())

    def findings(self, cellar: Cellar | None = None, cache: Cache | None = None) -> tuple[Finding, ...]:
        """The findings of the whole cellar, worst first; the verdicts they rest on stay in the cache."""
        from mustwatch.ledger.reader import without_collector
        from mustwatch.rules.engine import judge_cellar

        cellar = cellar or self.cellar_view()
        with without_collector():
            return judge_cellar(cellar, cellar.now, cache)

    def live(self) -> tuple[Live, ...]:
        """What the probes show now, where this machine listens and the cellar is looked at as it is."""
        from mustwatch.feeds.probes.live import live

        return () if self.read_only else live(self.ledger.identity.folder / "feeds", self.clock_now)

    def append(self, *events: Any) -> tuple[Any, ...]:
        """Saves events, stamped; on disk when it returns. Raises Refused in a read-only view."""
        if self.read_only:
            raise Refused(f"not saved: {self.read_only}")
        self._view = None
        self._witness()
        saved = self.ledger.append(events, self.clock_now)
        self.saved += len(saved)
        return saved

    def _witness(self) -> None:
        """Notes what is seen of other devices' files, now and then; where that fails, the save itself says so."""
        from contextlib import suppress

        from mustwatch.ledger import witness

        with suppress(OSError, ValueError):
            event = self.ledger.witness(self.clock_now)
            if event is not None:
                witness.noted(self.ledger.identity, self.ledger.append([event], self.clock_now)[0])

    def out(self, text: str = "") -> None:
        """One line on standard output."""
        door.say(text)

    def page(self, text: str) -> None:
        """A text of several lines, the program's own, on standard output."""
        door.say_page(text)

    def err(self, text: str) -> None:
        """One line on standard error."""
        door.say(f"mustwatch: {text}", sys.stderr)


def _check_thresholds(settings: Settings) -> None:
    if settings.thresholds:
        from mustwatch.rules.catalogue import RULES
        from mustwatch.rules.rule import check_thresholds

        check_thresholds(settings, (module.RULE for module in RULES))


def default_cellar() -> Path:
    """$MUSTWATCH_CELLAR, else the platform's user data folder."""
    if given := os.environ.get("MUSTWATCH_CELLAR"):
        return Path(given)
    from mustwatch.ledger.places import data_folder

    return data_folder() / "cellar"
