"""What is done about a finding: its rule's page, a hush, the deed it advises."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from mustwatch.screens.asking import Answer, Choosing
from mustwatch.screens.round.filling import FORMS, Filling
from mustwatch.screens.round.reading_form import ReadingForm
from mustwatch.screens.round.rows import DANGER

if TYPE_CHECKING:
    from mustwatch.rules.finding import Finding

MOST_ANSWERS = 9  # that a digit can pick


class Attending(Filling):
    """The actions that begin at a finding."""

    def _with_finding(self, title: str, then: Callable[[Finding], None]) -> None:
        """Does `then` with the batch's finding; asks which where there are several."""
        batch = self.chosen
        found = self.look.found(batch.tag) if batch else ()
        if not found:
            self.say("nothing was found about this batch", "today")
        elif len(found) == 1:
            then(found[0])
        else:
            answers = [
                Answer(str(number), f"{one.severity.word}  {one.rule}", str(number - 1))
                for number, one in enumerate(found[:MOST_ANSWERS], 1)
            ]
            self.app.push_screen(
                Choosing(title, answers), lambda place: then(found[int(place)]) if place is not None else None
            )

    def action_explain(self) -> None:
        """Opens the page of a finding's rule, or one on what was seen and is normal; asks which of several."""
        from mustwatch.rules.normal import normal_pages_for

        batch, look = self.chosen, self.look
        found = look.found(batch.tag) if batch else ()
        pages = normal_pages_for(batch, look.now) if batch else ()
        answers = [(f"{one.severity.word}  {one.rule}", f"rule {one.rule}") for one in found]
        answers += [(f"normal, and why: {name}", f"normal {name}") for name in pages]
        if not answers:
            self.say("nothing was found about this batch", "today")
        elif len(answers) == 1:
            self._explain(answers[0][1])
        else:
            numbered = [
                Answer(str(number) if number <= MOST_ANSWERS else " ", *one) for number, one in enumerate(answers, 1)
            ]
            self.app.push_screen(Choosing("Which one?", numbered), self._explain)

    def _explain(self, page: str | None) -> None:
        from mustwatch.screens.explain import normal_page, rule_page

        kind, _, name = (page or "").partition(" ")
        if kind == "rule":
            self.app.push_screen(rule_page(name, self.look.settings))
        elif kind == "normal":
            self.app.push_screen(normal_page(name))

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
        from mustwatch.entry.when import COMING, coming
        from mustwatch.said.dates import day
        from mustwatch.screens.typing_screen import Typing

        now = self.look.source.clock_now
        if days == "date":
            self.app.push_screen(
                Typing(
                    f"Hush {finding.rule} until",
                    day(now + timedelta(days=14), now),
                    says=[f"such as {COMING}"],
                    check=lambda text: _date_fault(text, now),
                ),
                lambda text: self._hush_until(finding, coming(text, now)) if text else None,
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
        if form in FORMS:
            self.action_form(form, prefill)
        elif form == "note":
            self._write(finding, f'"{prefill}"' if prefill else "")
        elif form in ("log", "read"):
            self._write(finding, prefill)
        else:
            self._tell(finding, f"mustwatch {form} {finding.batch} {prefill}".strip())

    def _write(self, finding: Finding, prefill: str) -> None:
        reading = self.query_one(ReadingForm)
        if prefill and not self.fields_now().get("note"):
            reading.put("note", prefill)
        in_note = prefill or (finding.action or ("",))[0] == "note"
        reading.focus_field("note" if in_note else "gravity")
        self.say(finding.do[0] if finding.do else finding.says)

    def _tell(self, finding: Finding, command: str) -> None:
        steps = [f"{number}. {step}" for number, step in enumerate(finding.do, 1)]
        answer = Answer("y", "I have read it", "")
        self.app.push_screen(Choosing(finding.rule, [answer], says=[*steps, f"Record it with: {command} (--help)"]))


def _date_fault(text: str, now: datetime) -> str:
    from mustwatch.entry.when import coming

    try:
        until = coming(text, now)
    except ValueError as error:
        return str(error)
    return "" if until > now else f"{text[:20]} is past; a hush ends on a day to come"
