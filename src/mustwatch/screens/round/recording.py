"""What is done by a key or by the form: it ends as events in the ledger."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from textual.timer import Timer

from mustwatch.ledger.trouble import NotSaved
from mustwatch.said.dates import moment
from mustwatch.screens.asking import Answer, Choosing
from mustwatch.screens.round.batch_list import BatchList
from mustwatch.screens.round.reading_form import ReadingForm
from mustwatch.screens.round.view import RoundView

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.ledger.events import Event

NO_BATCH = "there is no batch here"
KEEP_AFTER = 1.0  # seconds of rest after typing before it is kept on disk


class Recording(RoundView):
    """Saving, one-key entries, closures, and taking back."""

    _keep_timer: Timer | None = None

    def save(self, events: Sequence[Event], *, go_on: bool) -> bool:
        """Saves, says so only when it is on disk, and goes on to the next batch when asked to."""
        fault = self.refusal_of(events, go_on=go_on)
        if fault:
            self.say(fault, "today" if self.look.read_only else "danger")
        return not fault

    def refusal_of(self, events: Sequence[Event], *, go_on: bool = False) -> str:
        """Saves and says so; answers with why it could not be saved, or with nothing."""
        look = self.look
        if reason := look.read_only:
            return f"not saved, read-only: {reason}"
        try:
            saved = look.save(events)
        except NotSaved as error:
            return f"!! {error}"
        except Exception as error:  # whatever went wrong, what was typed must outlive it
            return f"!! not saved: {str(error) or type(error).__name__}"
        tag = events[0].batch or ""
        self.saved[tag] = tuple(event.id for event in saved)
        said = f"saved {tag}: {look.told(saved)}"
        self._after_saving(go_on)
        self.say(said, "good", about=tag)
        return ""

    def _after_saving(self, go_on: bool) -> None:
        batches = self.query_one(BatchList)
        following = batches.rows[batches.cursor + 1].tag if go_on and batches.cursor + 1 < len(batches.rows) else None
        if go_on and following is None:
            # The end of the walk: the list is put in order again, and the cursor goes to its head.
            self.redraw(reorder=True)
            batches.move_to(0)
        else:
            self.redraw(tag=following)

    def save_draft(self) -> None:
        """Saves what is typed for this batch; on any doubt nothing is saved and nothing is lost."""
        draft_now, batch = self.draft(), self.chosen
        if batch is None or draft_now.empty:
            self.say(
                "nothing to save yet; l in the list records a look with all well",
                "today",
                about=batch.tag if batch else "",
            )
            return
        if draft_now.faults:
            name, text = next(iter(draft_now.faults.items()))
            self.say(f"not saved: {name}: {text}", "danger", about=batch.tag)
            self.query_one(ReadingForm).focus_field(name)
            return
        kept = self.drafts.pop(batch.tag, {})
        if self.save(draft_now.events, go_on=True):
            self.query_one(ReadingForm).focus_field()
            self.keep_now()
        else:
            self.drafts[batch.tag] = kept
            self.redraw()

    def keep_soon(self) -> None:
        """Keeps what is typed once the typing rests."""
        if self._keep_timer is not None:
            self._keep_timer.stop()
        self._keep_timer = self.set_timer(KEEP_AFTER, self.keep_now)

    def keep_now(self) -> None:
        """Keeps what is typed and not saved, now."""
        self.program.keep_unsent()

    def _record(self, kind: str, *, go_on: bool = False, **keys: Any) -> None:
        batch = self.chosen
        if batch is None:
            self.say(NO_BATCH, "today")
            return
        try:
            event = self.look.drafted(kind, batch.tag, **keys)
        except ValueError as error:
            self.say(f"not saved: {error}", "danger")
            return
        self.save([event], go_on=go_on)

    def action_looked(self) -> None:
        """Looked, all well."""
        self._record("seen", go_on=True, signs=["all well"])

    def action_did(self, kind: str) -> None:
        """Something was done."""
        self._record(kind)

    def action_saw(self, airlock: str) -> None:
        """The airlock was seen."""
        self._record("seen", airlock=airlock)

    def action_reading(self) -> None:
        """Goes into the form."""
        if self.chosen is None:
            self.say(NO_BATCH, "today")
        else:
            self.query_one(ReadingForm).focus_field()

    def action_note(self) -> None:
        """Goes into the note line."""
        if self.chosen is None:
            self.say(NO_BATCH, "today")
        else:
            self.query_one(ReadingForm).focus_field("note")

    def action_undo(self) -> None:
        """Asks whether to take back the newest entry of this batch, naming it."""
        batch = self.chosen
        events = self._newest(batch) if batch else []
        if batch is None or not events:
            self.say("nothing to take back here", "today")
            return
        when = moment(events[0].at, self.look.now)
        self.app.push_screen(
            Choosing(
                f"Take back this entry of {batch.tag}?",
                [Answer("n", "no, it stays", ""), Answer("y", "yes, take it back", "yes")],
                says=[
                    f"{when}: {self.look.told(events)}",
                    "The entry stays in the ledger, marked as taken back.",
                ],
            ),
            lambda answer: self._take_back(batch, events) if answer else None,
        )

    def _newest(self, batch: Batch) -> list[Event]:
        newest = self.look.newest(batch.tag)
        if newest is None:
            return []
        together = self.saved.get(batch.tag, ())
        if newest.id in together:
            return [event for event in batch.story if event.id in together]
        return [newest]

    def _take_back(self, batch: Batch, events: Sequence[Event]) -> None:
        acts = [self.look.drafted("withdrew", batch.tag, target=event.id) for event in events]
        if self.save(acts, go_on=False):
            self.say(f"taken back: {self.look.told(events)}", "good")
