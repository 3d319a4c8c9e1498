"""Forms over the round: what is done to a batch, written down with its amounts."""

from __future__ import annotations

from mustwatch.deeds.close import SEALED
from mustwatch.screens.asking import Answer, Choosing
from mustwatch.screens.round.recording import NO_BATCH, Recording
from mustwatch.screens.unsent import Fields

CLOSURES = (
    ("a", "airlock"), ("b", "blow-off"), ("l", "loose-cap"), ("o", "cloth"), ("s", "solid-bung"), ("t", "tight-cap"),
    ("w", "crown-cap"), ("c", "cork"), ("g", "swing-top"), ("k", "keg"),
)  # fmt: skip
VENTED = {"airlock", "blow-off", "loose-cap", "cloth"}
FORMS = frozenset({"pitch", "add", "rack", "bottle", "close"})


class Filling(Recording):
    """Opens the forms; what is typed in one and left is still there when it is opened again."""

    def action_form(self, name: str, prefill: str = "") -> None:
        """Opens a form for this batch. prefill: what a finding asks for, such as a closure or a substance."""
        batch, look = self.chosen, self.look
        if batch is None:
            self.say(NO_BATCH, "today")
            return
        if look.read_only:
            self.say(f"not saved, read-only: {look.read_only}", "today")
            return
        from mustwatch.deeds.catalogue import deed_named
        from mustwatch.screens.forms.screen import FormScreen

        deed, place = deed_named(name), (batch.tag, name, prefill)
        known = deed.first(look.ground(batch.tag), prefill)
        texts = self.form_texts.setdefault(place, dict(known))
        self.app.push_screen(
            FormScreen(deed, batch.tag, look, texts, self.refusal_of), lambda _: self._left_form(place, known)
        )

    def _left_form(self, place: tuple[str, str, str], known: Fields) -> None:
        """Forgets a form in which nothing was typed: what is known may be other the next time."""
        texts = {name: text for name, text in self.form_texts.get(place, {}).items() if text.strip()}
        if texts in ({}, {name: text for name, text in known.items() if text}):
            self.form_texts.pop(place, None)
        else:
            self.say(f"not saved; what was typed in {place[1]} is there when you open it again", "watch")

    def action_closure(self, start: str = "") -> None:
        """Asks which closure was put on."""
        batch = self.chosen
        if batch is None:
            self.say(NO_BATCH, "today")
            return
        answers = [
            Answer(letter, f"{kind} ({'lets gas out' if kind in VENTED else 'sealed'})", kind,
                   "" if kind in VENTED else SEALED)
            for letter, kind in CLOSURES
        ]  # fmt: skip
        current = start or batch.closing.kind or "airlock"
        self.app.push_screen(
            Choosing(f"What closes {batch.tag} now?", answers, start=current),
            self._closure_taken,
        )

    def _closure_taken(self, kind: str | None) -> None:
        if kind in VENTED:
            self._record("closed", closure=kind)
        elif kind:
            # What lets no gas out goes through the form, which shows what the rules would say of it.
            self.action_form("close", kind)
