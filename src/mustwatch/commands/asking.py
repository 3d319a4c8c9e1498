"""Asking at a terminal what a note means; the note is saved whatever is answered."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from mustwatch.commands import door

if TYPE_CHECKING:
    from mustwatch.commands.context import Context
    from mustwatch.deeds.ground import Ground
    from mustwatch.ledger.events import Event

HOW = "[y/n, any other key leaves it open] "


def asked(context: Context, ground: Ground, events: Sequence[Event], as_json: bool) -> list[Event]:
    """The events with what was answered: a look beside the note, or the note as harmless. Nothing is asked elsewhere
    than at a terminal."""
    found = list(events)
    if as_json or not any(event.note for event in events) or not _at_terminal():
        return found
    from mustwatch.deeds.questions import affirmed, denied, questions

    for question in questions(ground, events):
        context.out(question.asks)
        answer = door.asked_by_key(HOW, "y", "n")
        if answer == "y":
            found.append(affirmed(question, events))
        elif answer == "n":
            found[question.place] = denied(question, found)
    return found


def _at_terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()
