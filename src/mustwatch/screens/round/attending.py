"""What is done about a finding: its rule's page, a hush, the deed it advises."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from functools import partial
from typing import TYPE_CHECKING

from mustwatch.entry.when import COMING
from mustwatch.said.dates import day
from mustwatch.screens.asking import Answer, Choosing, Typing
from mustwatch.screens.round.rows import DANGER

if TYPE_CHECKING:
    from mustwatch.deeds.deed import Understood
    from mustwatch.rules.finding import Finding
    from mustwatch.screens.paper import Paper
    from mustwatch.screens.round.desk import Desk
    from mustwatch.screens.round.entries import Entries
    from mustwatch.screens.round.opener import Opener
    from mustwatch.screens.round.shown import Shown

MOST_ANSWERS = 9  # that a digit can pick
NOTHING = "nothing was found about this batch"


class Attending:
    """The actions that begin at a finding of the batch chosen."""

    def __init__(self, shown: Shown, entries: Entries, opener: Opener, desk: Desk) -> None:
        self.shown, self.entries, self.opener, self.desk = shown, entries, opener, desk

    @property
    def _found(self) -> tuple[Finding, ...]:
        return self.shown.look.found(self.shown.tag) if self.shown.tag else ()

    def _one_of(self, title: str, choices: list[tuple[str, Callable[[], None]]]) -> None:
        """Does the one choice there is; asks which where there are several. choices: (words, what is done)."""
        if not choices:
            self.desk.say(NOTHING, "today")
        elif len(choices) == 1:
            choices[0][1]()
        else:
            answers = [
                Answer(str(number + 1) if number < MOST_ANSWERS else "", words, str(number))
                for number, (words, _) in enumerate(choices)
            ]
            self.desk.ask(Choosing(title, answers), lambda place: choices[int(place)][1]() if place else None)

    def _with_finding(self, title: str, then: Callable[[Finding], None]) -> None:
        self._one_of(title, [(_named(one), partial(then, one)) for one in self._found])

    def explain(self) -> None:
        """Opens the page of a finding's rule, its procedure, or one on what was seen and is normal."""
        from mustwatch.rules.normal import normal_pages_for
        from mustwatch.rules.worked import worked_pages_for
        from mustwatch.screens.explain import plain_page, rule_page

        batch, look = self.shown.batch, self.shown.look
        pages = [
            (f"{one.severity.word}  {one.rule}", partial(rule_page, one.rule, look.settings)) for one in self._found
        ]
        for name in worked_pages_for(one.rule for one in self._found):
            pages.append((f"step by step: {name}", partial(plain_page, name)))
        for name in normal_pages_for(batch, look.now) if batch else ():
            pages.append((f"normal, and why: {name}", partial(plain_page, name)))
        self._one_of("Which one?", [(words, partial(self._open, page)) for words, page in pages])

    def _open(self, page: Callable[[], Paper]) -> None:
        self.desk.ask(page())

    def hush(self) -> None:
        """Asks until when a finding is to sleep."""
        if reason := self.shown.look.read_only:
            self.desk.say(f"not saved, read-only: {reason}", "today")
        else:
            self._with_finding("Hush which one?", self._hush)

    def _hush(self, finding: Finding) -> None:
        danger = finding.severity == DANGER
        answers = [Answer("1", "until tomorrow, 24 hours", "24 hours")]
        if not danger:
            answers += [Answer("3", "3 days", "72 hours"), Answer("7", "a week", "168 hours")]
            answers += [Answer("m", "30 days", "720 hours"), Answer("d", "until a date", "date")]
        says = [finding.says, *(["A danger sleeps 24 hours at most, and stays in sight."] if danger else [])]
        question = Choosing(f"Hush {finding.rule}", answers, says=says)
        self.desk.ask(question, lambda until: self._hush_for(finding, until))

    def _hush_for(self, finding: Finding, until: str | None) -> None:
        if until == "date":
            now = self.shown.look.source.clock_now
            question = Typing(
                f"Hush {finding.rule} until",
                day(now + timedelta(days=14), now),
                says=[f"such as {COMING}"],
                check=lambda text: self._hushed(finding, text).faults.get("until", ""),
            )
            self.desk.ask(question, lambda text: self._hush_for(finding, text))
        elif until:
            meant = self._hushed(finding, until)
            if meant.events:
                self.entries.save(meant.events)
            else:
                self.desk.say("; ".join(meant.faults.values()), "danger")

    def _hushed(self, finding: Finding, until: str) -> Understood:
        from mustwatch.deeds.deed import understood
        from mustwatch.deeds.hush import DEED

        return understood(DEED, {"rule": finding.rule, "until": until}, self.shown.look.ground(finding.batch))

    def do(self) -> None:
        """Shows what is to be done about a danger, or opens the form that writes down what the finding advises."""
        self._with_finding("Do which one?", self._do)

    def _do(self, finding: Finding) -> None:
        # A form says nothing of eyes and hands; and not every finding is ended by writing something down.
        if finding.severity == DANGER or finding.action is None:
            self._show_steps(finding)
        else:
            self._write_down(finding, *finding.action)

    def _show_steps(self, finding: Finding) -> None:
        """The steps in their order; a form is offered for the one that is written down, and nothing is marked yet."""
        answers = [Answer("b", "back to the list", "")]
        if finding.action is not None:
            answers.append(Answer("w", f"that is done: write it down ({_form_in_words(finding.action)})", "write"))
        title = f"{finding.severity.word.upper()} {finding.rule}: do this first"
        question = Choosing(title, answers, says=finding.steps)
        action = finding.action
        self.desk.ask(question, lambda given: self._write_down(finding, *action) if given and action else None)

    def _write_down(self, finding: Finding, form: str, prefill: str) -> None:
        from mustwatch.deeds.catalogue import DEEDS

        if form == "note":
            self._write(finding, "note", f'"{prefill}"' if prefill else "")
        elif form in DEEDS:
            self.opener.form(form, prefill)
        else:
            self._write(finding, "note" if prefill else "gravity", prefill)

    def _write(self, finding: Finding, field: str, prefill: str) -> None:
        self.desk.fill(field, "" if self.shown.fields.get("note") else prefill)
        self.desk.say(finding.do[0] if finding.do else finding.says)


def _form_in_words(action: tuple[str, str]) -> str:
    """What a form writes down, in words: `a reading`, `close airlock`."""
    return "a reading" if action == ("log", "") else " ".join(part for part in action if part)


def _named(finding: Finding) -> str:
    return f"{finding.severity.word}  {finding.rule}"
