"""The cellar as the screens see it: read, folded and judged once, and again when something changed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, Protocol

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import Cellar
from mustwatch.judgement.state import Verdict
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import Event
from mustwatch.ledger.settings import Settings
from mustwatch.rules.engine import Cache, judge_cellar
from mustwatch.rules.finding import Finding
from mustwatch.said.troubles import Trouble, in_short, troubles_of

if TYPE_CHECKING:
    from mustwatch.deeds.ground import Ground
    from mustwatch.judgement.forecast.outlook import Outlook
    from mustwatch.ledger.store import Contents, Ledger
    from mustwatch.ledger.trouble import Trouble as FileTrouble
    from mustwatch.said.live import Live

GONE = "cellar files gone: shown is what was read before; nothing can be saved now"


class Source(Protocol):
    """What a look needs of the shell: the ledger, the time, and a way to save."""

    @property
    def ledger(self) -> Ledger: ...
    @property
    def looked_at(self) -> datetime | None: ...
    @property
    def clock_now(self) -> datetime: ...
    @property
    def read_only(self) -> str | None: ...
    def settled(self) -> tuple[Settings, str]: ...
    def contents(self) -> Contents: ...
    def damage(self, contents: Contents, view: Cellar) -> Sequence[FileTrouble]: ...
    def folded(self, contents: Contents, before: Cellar | None, settings: Settings) -> Cellar: ...
    def append(self, *events: Any) -> tuple[Any, ...]: ...


class Look:
    """One look at a cellar. `again()` takes a new one; batches that did not change cost nothing."""

    def __init__(self, source: Source, settings: Settings) -> None:
        self.source = source
        self.settings = settings
        self.trouble = ""
        self.troubles: tuple[Trouble, ...] = ()
        self.events: tuple[Event, ...] = ()
        self._cache = Cache()
        self._print: object = None
        self._live_seen: tuple[Live, ...] = ()
        self._outlooks: dict[str, tuple[str, Outlook | None]] = {}
        self.cellar: Cellar
        self._before: Cellar | None = None
        self.findings: tuple[Finding, ...] = ()
        self.again()

    @property
    def now(self) -> datetime:
        """The time this look was taken at."""
        return self.cellar.now

    @property
    def read_only(self) -> str | None:
        """Why nothing may be saved, or None."""
        return self.source.read_only or self._ledger_read_only

    def again(self) -> None:
        """Reads, folds and judges anew. What fails is said in `trouble`; the last good look stays."""
        self._print = self.source.ledger.fingerprint()
        contents = self.source.contents()
        if self.events and not contents.events:
            # A folder moved away or not mounted is no empty cellar: nothing may look as if all were well.
            self.trouble = GONE
            return
        self._ledger_read_only = contents.read_only
        self.events = contents.events
        self.settings, fault = self.source.settled()
        cellar = self.source.folded(contents, self._before, self.settings)
        self.findings = judge_cellar(cellar, cellar.now, self._cache)
        self.cellar = self._before = cellar
        self.troubles = troubles_of(cellar, self.source.damage(contents, cellar), fault)
        self.trouble = in_short([one for one in self.troubles if one.grave or one.batch is None])

    @property
    def ails(self) -> str:
        """What the trouble is with, in a word for the top line: the clock, the settings, else the ledger."""
        return next((one.what for one in self.troubles if one.what in ("clock", "settings")), "ledger")

    def ground(self, tag: str | None) -> Ground:
        """What a form's deed is done to; the scale of a bare temperature stands beside its field."""
        from mustwatch.deeds.ground import Ground

        now = self.now if self.read_only else self.source.clock_now
        return Ground(tag, self.cellar, now, self.events, self._cache, scaled=True)

    def is_stale(self) -> bool:
        """Whether the ledger changed since, or time alone may have changed what is judged."""
        if self.source.ledger.fingerprint() != self._print:
            return True
        live = self.source.looked_at is None
        return live and self.source.clock_now - (self.cellar.clock or self.now) >= timedelta(hours=1)

    def live(self) -> tuple[Live, ...]:
        """What the probes show at this moment; nothing where nobody listens."""
        ask = getattr(self.source, "live", None)
        self._live_seen = tuple(ask()) if ask else ()
        return self._live_seen

    def is_live_news(self) -> bool:
        """Whether a probe shows something else than when it was last asked."""
        seen = self._live_seen
        return self.live() != seen

    def batch(self, tag: str) -> Batch | None:
        """One batch, or None when there is no such tag."""
        return self.cellar.batches.get(tag)

    def found(self, tag: str) -> tuple[Finding, ...]:
        """The findings of one batch, worst first, hushed ones last."""
        return tuple(finding for finding in self.findings if finding.batch == tag)

    def verdict(self, batch: Batch) -> Verdict:
        """What is judged of a batch's readings."""
        return self._cache.known[batch.tag][1]

    def known_outlook(self, batch: Batch) -> Outlook | None:
        """The forecast of a batch if it was already made, else None."""
        revision, known = self._outlooks.get(batch.tag, ("", None))
        return known if revision == batch.revision else None

    def make_outlook(self, batch: Batch) -> Outlook | None:
        """The forecast of a batch; slow, so made off the screen's own thread. None when none can be made."""
        from mustwatch.judgement.forecast.outlook import outlook

        if self._outlooks.get(batch.tag, ("", None))[0] != batch.revision:
            try:
                made = outlook(batch, self.settings, self.now)
            except (ValueError, ArithmeticError):
                # A course that cannot be forecast is drawn without a fan.
                made = None
            # One a batch: a round that stays open for weeks must not keep them all.
            self._outlooks[batch.tag] = (batch.revision, made)
        return self.known_outlook(batch)

    def save(self, events: Sequence[Event]) -> tuple[Event, ...]:
        """The events, stamped; on disk when it returns. Raises OSError or ValueError with one line."""
        saved = self.source.append(*events)
        try:
            self.again()
        except Exception as error:
            self.trouble = f"saved, but the cellar could not be looked at again: {error}"
        return saved

    def drafted(self, kind: str, tag: str | None, **keys: Any) -> Event:
        """A new entry of a batch, made now. Raises ValueError with one line."""
        return draft(kind, self.source.clock_now, tag, **keys)
