"""Opens the forms over the round: what is done to a batch, written down with its amounts."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from mustwatch.ledger.events import VENTED_CLOSURES
from mustwatch.screens.asking import Answer, Choosing
from mustwatch.screens.round.entries import NO_BATCH

if TYPE_CHECKING:
    from mustwatch.screens.round.desk import Desk
    from mustwatch.screens.round.entries import Entries
    from mustwatch.screens.round.shown import Shown
    from mustwatch.screens.unsent import Fields

CLOSURES = (
    ("a", "airlock"), ("b", "blow-off"), ("l", "loose-cap"), ("o", "cloth"), ("s", "solid-bung"), ("t", "tight-cap"),
    ("w", "crown-cap"), ("c", "cork"), ("g", "swing-top"), ("k", "keg"),
)  # fmt: skip
# The letters of the acts, where one has a key of its own in the list the same.
ACTS = (
    ("b", "begin"), ("y", "pitch"), ("x", "close"), ("i", "add"), ("m", "rack"), ("o", "remove"), ("p", "move"),
    ("f", "bottle"), ("u", "pour-back"), ("h", "heat"), ("g", "take"), ("t", "taste"), ("e", "end"),
    ("n", "instrument"),
)  # fmt: skip


class Opener:
    """The forms of the batch chosen; what is typed in one and left is still there when it is opened again."""

    def __init__(self, shown: Shown, entries: Entries, desk: Desk) -> None:
        self.shown, self.entries, self.desk = shown, entries, desk
        self._texts: dict[tuple[str, str, str], Fields] = {}

    def acts(self) -> None:
        """Asks what is to be written down, and opens its form."""
        from mustwatch.deeds.catalogue import DEEDS

        answers = [Answer(letter, f"{name}: {DEEDS[name]}", name) for letter, name in ACTS]
        self.desk.ask(Choosing("What is to be written down?", answers, start="begin"), self._chosen)

    def _chosen(self, name: str | None) -> None:
        if name:
            self.form(name)

    def form(self, name: str, prefill: str = "") -> None:
        """Opens a form. prefill: what a finding asks for, such as a closure or a substance."""
        from mustwatch.deeds.catalogue import deed_named

        deed, look = deed_named(name), self.shown.look
        batch = self.shown.batch if deed.of in ("batch", "either") else None
        if batch is None and deed.of == "batch":
            self.desk.say(NO_BATCH, "today")
            return
        if look.read_only:
            self.desk.say(f"not saved, read-only: {look.read_only}", "today")
            return
        from mustwatch.screens.forms.screen import FormScreen

        tag = batch.tag if batch else None
        place = (tag or "", name, prefill)
        known = deed.first(look.ground(tag), prefill)
        texts = self._texts.setdefault(place, dict(known))
        form = FormScreen(deed, tag, look, texts, partial(self.entries.save, ask=False))
        self.desk.ask(form, lambda _: self._left(place, known))

    def _left(self, place: tuple[str, str, str], known: Fields) -> None:
        """Forgets a form in which nothing was typed: what is known may be other the next time."""
        texts = {name: text for name, text in self._texts.get(place, {}).items() if text.strip()}
        if texts in ({}, {name: text for name, text in known.items() if text}):
            self._texts.pop(place, None)
        else:
            self.desk.say(f"not saved; what was typed in {place[1]} is there when you open it again", "watch")
        self.entries.ask_about()

    def closure(self) -> None:
        """Asks which closure was put on."""
        from mustwatch.deeds.close import SEALED

        batch = self.shown.batch
        if batch is None:
            self.desk.say(NO_BATCH, "today")
            return
        answers = [
            Answer(letter, f"{kind} ({'lets gas out' if kind in VENTED_CLOSURES else 'sealed'})", kind,
                   "" if kind in VENTED_CLOSURES else SEALED)
            for letter, kind in CLOSURES
        ]  # fmt: skip
        question = Choosing(f"What closes {batch.tag} now?", answers, start=batch.closing.kind or "airlock")
        self.desk.ask(question, self._closed)

    def _closed(self, kind: str | None) -> None:
        if kind in VENTED_CLOSURES:
            self.entries.record("closed", closure=kind)
        elif kind:
            # What lets no gas out goes through the form, which shows what the rules would say of it.
            self.form("close", kind)
