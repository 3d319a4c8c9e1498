"""What the keys of the round do: each ends as events in the ledger, or as a question first."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from mustwatch.screens.asking import Answer, Choosing
from mustwatch.screens.round.batch_list import BatchList
from mustwatch.screens.round.detail import Detail
from mustwatch.screens.round.reading_form import ReadingForm
from mustwatch.screens.round.rows import DANGER
from mustwatch.screens.scales import moment

if TYPE_CHECKING:
    from mustwatch.batches.batch import Batch
    from mustwatch.ledger.events import Event
    from mustwatch.rules.finding import Finding
    from mustwatch.screens.look import Look

FILTER_HELP = "part of a tag, name, stage or severity; empty shows all"
KEEP_AFTER = 1.0  # seconds of rest after typing before it is kept on disk
CLOSURES = (
    ("a", "airlock"), ("b", "blow-off"), ("l", "loose-cap"), ("o", "cloth"), ("s", "solid-bung"), ("t", "tight-cap"),
    ("w", "crown-cap"), ("c", "cork"), ("g", "swing-top"), ("k", "keg"),
)  # fmt: skip
VENTED = {"airlock", "blow-off", "loose-cap", "cloth"}
SEALED_CAUTION = (
    "Sealed: no gas gets out. While any sugar can still ferment, pressure builds and glass can burst and cut."
    " Only a batch whose readings have agreed for weeks may be sealed; else fit an airlock now."
)


class Actions:
    """The actions of the round's screen."""

    look: Look
    drafts: dict[str, dict[str, str]]
    saved: dict[str, tuple[str, ...]]
    batch: Any
    say: Callable[..., None]

    # -- saving

    def save(self, events: Sequence[Event], *, go_on: bool) -> bool:
        """Saves, says so only when it is on disk, and goes on to the next batch when asked to."""
        batch, look = self.batch, self.look
        if reason := look.read_only:
            self.say(f"not saved, read-only: {reason}", "today")
            return False
        try:
            saved = look.save(events)
        except (OSError, ValueError) as error:
            self.say(f"NOT SAVED: {error}", "danger")
            return False
        except Exception as error:
            self.say(f"NOT SAVED: {type(error).__name__}: {error}", "danger")
            return False
        if batch is not None:
            self.saved[batch.tag] = tuple(event.id for event in saved)
        said = f"saved {batch.tag if batch else ''}: {look.told(saved)}"
        self._after_saving(go_on)
        self.say(said, "good")
        return True

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
        draft_now, batch = self.draft(), self.batch
        if batch is None or draft_now.empty:
            self.say("nothing to save yet; l in the list records a look with all well", "today")
            return
        if draft_now.faults:
            name, text = next(iter(draft_now.faults.items()))
            self.say(f"not saved: {name}: {text}", "danger")
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
        timer = getattr(self, "_keep_timer", None)
        if timer is not None:
            timer.stop()
        self._keep_timer = self.set_timer(KEEP_AFTER, self.keep_now)

    def keep_now(self) -> None:
        """Keeps what is typed and not saved, now."""
        self.app.keep_unsent()

    # -- one key, one entry

    def _record(self, kind: str, *, go_on: bool = False, **keys: Any) -> None:
        batch = self.batch
        if batch is None:
            self.say("there is no batch here", "today")
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

    # -- forms

    def action_reading(self) -> None:
        """Goes into the form."""
        if self.batch is not None:
            self.query_one(ReadingForm).focus_field()

    def action_note(self) -> None:
        """Goes into the note line."""
        if self.batch is not None:
            self.query_one(ReadingForm).focus_field("note")

    def action_closure(self, start: str = "") -> None:
        """Asks which closure was put on."""
        batch = self.batch
        if batch is None:
            return
        answers = [
            Answer(letter, f"{kind} ({'lets gas out' if kind in VENTED else 'sealed'})", kind,
                   "" if kind in VENTED else SEALED_CAUTION)
            for letter, kind in CLOSURES
        ]  # fmt: skip
        current = start or batch.closing.kind or "airlock"
        self.app.push_screen(
            Choosing(f"What closes {batch.tag} now?", answers, start=current),
            lambda kind: self._record("closed", closure=kind) if kind else None,
        )

    def action_filter(self) -> None:
        """Asks for the words that batches must match."""
        from mustwatch.screens.typing_screen import Typing

        self.app.push_screen(
            Typing(
                "Show only batches that match",
                self.words,
                says=["part of a tag, name, stage or severity; empty shows all"],
            ),
            self._filtered,
        )

    def _filtered(self, words: str | None) -> None:
        if words is not None:
            self.words = words.strip()
            self.redraw()

    def action_reorder(self) -> None:
        """Orders the list anew, after a new look."""
        self.see_again(reorder=True)
        self.query_one(BatchList).move_to(0)

    def action_ended(self) -> None:
        """Shows or hides ended batches."""
        self.with_ended = not self.with_ended
        self.redraw()
        self.say("ended batches are shown" if self.with_ended else "ended batches are hidden")

    # -- undoing

    def action_undo(self) -> None:
        """Asks whether to take back the newest entry of this batch, naming it."""
        batch = self.batch
        events = self._newest(batch) if batch else []
        if not events:
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

    # -- findings

    def _with_finding(self, title: str, then: Callable[[Finding], None], *, awake: bool = False) -> None:
        """Does `then` with the batch's finding; asks which where there are several."""
        batch = self.batch
        found = self.look.found(batch.tag) if batch else ()
        if not found:
            self.say("nothing was found about this batch", "today")
        elif len(found) == 1:
            then(found[0])
        else:
            answers = [
                Answer(str(number), f"{one.severity.word}  {one.rule}", str(number - 1))
                for number, one in enumerate(found[:9], 1)
            ]
            self.app.push_screen(
                Choosing(title, answers), lambda place: then(found[int(place)]) if place is not None else None
            )

    def action_explain(self) -> None:
        """Opens the page of the finding's rule."""
        self._with_finding("Which one?", self._explain)

    def _explain(self, finding: Finding) -> None:
        from mustwatch.screens.explain import rule_page

        self.app.push_screen(rule_page(finding.rule, self.look.settings))

    def action_hush(self) -> None:
        """Asks until when a finding is to sleep."""
        if self.look.read_only:
            self.say(f"not saved, read-only: {self.look.read_only}", "today")
            return
        self._with_finding("Hush which one?", self._hush)

    def _hush(self, finding: Finding) -> None:
        danger = finding.severity == DANGER
        answers = [Answer("1", "until tomorrow, 24 hours", "1")]
        if not danger:
            answers += [Answer("3", "3 days", "3"), Answer("7", "a week", "7"), Answer("m", "30 days", "30")]
            answers += [Answer("d", "until a date", "date")]
        says = [finding.says, *(["A danger sleeps 24 hours at most, and stays in sight."] if danger else [])]
        self.app.push_screen(
            Choosing(f"Hush {finding.rule}", answers, says=says), lambda days: self._hush_for(finding, days)
        )

    def _hush_for(self, finding: Finding, days: str | None) -> None:
        from mustwatch.screens.typing_screen import Typing

        now = self.look.source.clock_now
        if days == "date":
            self.app.push_screen(
                Typing(
                    f"Hush {finding.rule} until",
                    f"{now + timedelta(days=14):%Y-%m-%d}",
                    check=lambda text: _date_fault(text, now),
                ),
                lambda text: self._hush_until(finding, _date(text, now)) if text else None,
            )
        elif days:
            self._hush_until(finding, now + timedelta(days=int(days)))

    def _hush_until(self, finding: Finding, until: datetime) -> None:
        self._record("hushed", rule=finding.rule, until=until)

    def action_do(self) -> None:
        """Opens the form that does what the finding advises."""
        self._with_finding("Do which one?", self._do)

    def _do(self, finding: Finding) -> None:
        form, prefill = finding.action or ("log", "")
        if form == "close":
            self.action_closure(prefill)
        elif form in ("log", "note", "read"):
            reading = self.query_one(ReadingForm)
            if prefill and not self.fields_now().get("note"):
                reading.put("note", prefill)
            reading.focus_field("note" if prefill or form == "note" else "gravity")
            self.say(finding.do[0] if finding.do else finding.says)
        else:
            command = f"mustwatch {form} {finding.batch} {prefill}".strip()
            self.app.push_screen(
                Choosing(
                    finding.rule,
                    [Answer("y", "I have read it", "")],
                    says=[
                        *(f"{number}. {step}" for number, step in enumerate(finding.do, 1)),
                        f"Record it with: {command}",
                    ],
                )
            )

    # -- pages

    def action_page(self, by: int) -> None:
        """Moves the detail pane by a page."""
        self.query_one(Detail).page(by)

    def action_jump(self, by: int) -> None:
        """Moves the detail pane to another part."""
        self.query_one(Detail).jump(by)

    def action_keys(self) -> None:
        """Opens the page of keys."""
        from mustwatch.screens.help import keys_page

        self.app.push_screen(keys_page())

    def action_bench(self) -> None:
        """Opens the calculators."""
        try:
            from mustwatch.screens.bench.screen import BenchScreen
        except ImportError:
            self.say("the calculators are at `mustwatch bench`", "today")
            return
        self.app.push_screen(BenchScreen())

    def action_quit(self) -> None:
        """Ends the round; what was typed and not saved is kept."""
        self.keep_now()
        self.app.exit()


def _date(text: str, now: datetime) -> datetime:
    found = datetime.fromisoformat(text.strip())
    if len(text.strip()) == 10:
        found = datetime.combine(found.date(), time(23, 59))
    return found if found.tzinfo else found.replace(tzinfo=now.tzinfo)


def _date_fault(text: str, now: datetime) -> str:
    try:
        until = _date(text, now)
    except ValueError:
        return f"{text[:20]} is no date; write it like {now + timedelta(days=14):%Y-%m-%d}"
    return "" if until > now else f"{text[:20]} is past; a hush ends on a day to come"
