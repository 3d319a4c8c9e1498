"""What one key or the reading form records, and what takes it back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from mustwatch.judgement.spoken import ALL_WELL
from mustwatch.said.dates import moment
from mustwatch.screens.asking import Answer, Choosing

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.deeds.questions import Question
    from mustwatch.ledger.events import Event
    from mustwatch.screens.round.desk import Desk
    from mustwatch.screens.round.recorder import Recorder
    from mustwatch.screens.round.shown import Shown

WAY_BACK = "; u takes it back"
NO_BATCH = "there is no batch here"


class Entries:
    """Entries of the batch chosen. Nothing is said to be saved before it is on disk."""

    def __init__(self, shown: Shown, recorder: Recorder, desk: Desk) -> None:
        self.shown, self.recorder, self.desk = shown, recorder, desk
        self._open: list[tuple[Question, Sequence[Event]]] = []

    def looked(self) -> None:
        """Looked, all well; on to the next batch."""
        self.record("seen", go_on=True, signs=[ALL_WELL])

    def did(self, kind: str) -> None:
        """Something was done."""
        self.record(kind)

    def saw(self, airlock: str) -> None:
        """The airlock was seen."""
        self.record("seen", airlock=airlock)

    def fill(self, field: str) -> None:
        """Goes into a field of the reading form."""
        if self.shown.batch is None:
            self.desk.say(NO_BATCH, "today")
        else:
            self.desk.fill(field)

    def record(self, kind: str, *, go_on: bool = False, **keys: Any) -> None:
        """Saves one entry of the batch chosen, made now."""
        batch = self.shown.batch
        if batch is None:
            self.desk.say(NO_BATCH, "today")
            return
        try:
            event = self.shown.look.drafted(kind, batch.tag, **keys)
        except ValueError as error:
            self.desk.say(f"not saved: {error}", "danger")
            return
        self.save([event], go_on=go_on, way_back=WAY_BACK)

    def save(self, events: Sequence[Event], *, go_on: bool = False, ask: bool = True, way_back: str = "") -> str:
        """Saves, says so and draws what came of it; answers with why it could not be saved, or with nothing.

        ask: whether what the notes mean is asked at once; else by `ask_about`, when a form is gone; way_back: what is
        added where a single key did it, for it may have been struck by chance.
        """
        asked = self._questions(events)
        outcome = self.recorder.save(events)
        if outcome.saved:
            if go_on:
                self.shown.go_on()
            self.desk.draw()
            if events[0].kind == "mixed" and events[0].batch:
                self.shown.choose(events[0].batch)
                self.desk.draw()
        says = f"{outcome.says}{way_back}" if outcome.saved else outcome.says
        self.desk.say(says, outcome.role, about=events[0].batch or "" if outcome.saved else "")
        self._open = [(question, outcome.events) for question in asked] if outcome.saved else []
        if ask:
            self.ask_about()
        return "" if outcome.saved else outcome.says

    def _questions(self, events: Sequence[Event]) -> Sequence[Question]:
        if not any(event.note for event in events):
            return ()
        from mustwatch.deeds.questions import questions

        return questions(self.shown.look.ground(events[0].batch), events)

    def ask_about(self) -> None:
        """Asks what the notes saved last mean, one question after the other; each is saved already."""
        if not self._open:
            return
        question, events = self._open.pop(0)
        says = [f'"{events[question.place].note}"', question.asks]
        answers = [
            Answer("y", "yes: record it as seen", "yes"),
            Answer("n", "no: the note means no harm", "no"),
            Answer("l", "not now", ""),
        ]
        asking = Choosing(f"What does this note of {events[0].batch} mean?", answers, says=says, start="")
        self.desk.ask(asking, lambda answer: self._answered(question, events, answer))

    def _answered(self, question: Question, events: Sequence[Event], answer: str | None) -> None:
        from mustwatch.deeds.questions import affirmed, denied

        rest = self._open
        if answer == "yes":
            self.save([affirmed(question, events)], ask=False)
        elif answer == "no":
            event = denied(question, events)
            mended = {"target": event.id, "set": {"harmless": list(event.harmless)}}
            self.save([self.shown.look.drafted("amended", event.batch, **mended)], ask=False)
            events = [event if one.id == event.id else one for one in events]
        self._open = [(other, events) for other, _ in rest]
        self.ask_about()

    def save_draft(self) -> None:
        """Saves what is typed for the batch chosen; on any doubt nothing is saved and nothing is lost."""
        draft, batch = self.shown.draft(), self.shown.batch
        if batch is None or draft.empty:
            hint = "nothing to save yet; l in the list records a look with all well"
            self.desk.say(hint, "today", about=self.shown.tag or "")
        elif draft.faults:
            name, text = next(iter(draft.faults.items()))
            self.desk.say(f"not saved: {name}: {text}", "danger", about=batch.tag)
            self.desk.fill(name)
        else:
            kept = self.shown.drafts.pop(batch.tag, {})
            if self.save(draft.events, go_on=True):
                self.shown.drafts[batch.tag] = kept
            else:
                self.desk.fill("gravity")

    def undo(self) -> None:
        """Asks whether to take back the newest entry of the batch chosen, naming it."""
        batch = self.shown.batch
        events = self.recorder.newest(batch) if batch else []
        if batch is None or not events:
            self.desk.say("nothing to take back here", "today")
            return
        when = moment(events[0].at, self.shown.look.now)
        question = Choosing(
            f"Take back this entry of {batch.tag}?",
            [Answer("n", "no, it stays", ""), Answer("y", "yes, take it back", "yes")],
            says=[f"{when}: {self.recorder.told(events)}", "The entry stays in the ledger, marked as taken back."],
        )
        self.desk.ask(question, lambda answer: self._take_back(batch, events) if answer else None)

    def _take_back(self, batch: Batch, events: Sequence[Event]) -> None:
        outcome = self.recorder.take_back(batch, events)
        if outcome.saved:
            self.desk.draw()
        self.desk.say(outcome.says, outcome.role)
