"""Words sought in everything that was written down: notes, tastings, looks, ingredients, names, of all years."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from mustwatch.entry.bare import bare
from mustwatch.ledger.events import Added, Bottled, Event, Mixed, Moved, Pitched, Racked, Removed, Seen, Tasted


@dataclass(frozen=True, slots=True)
class Hit:
    """One entry that holds the words. where: name, style, ingredient, yeast, look, tasting, place, vessel, lot or note;
    text: as it was written."""

    batch: str | None
    at: datetime
    id: str
    where: str
    text: str


def search(events: Iterable[Event], words: Sequence[str]) -> list[Hit]:
    """The entries that hold every word, the newest first; case and accents do not count.

    A word may also stand in the tag or the name of the batch, but not all of them: the batch itself is found by its
    name. events: as corrected, without those taken back.
    """
    wanted = [bare(word) for word in words]
    stories = list(events)
    names = _names(stories)
    found = [
        Hit(event.batch, event.at, event.id, where, text)
        for event in stories
        for where, text in _texts(event)
        if _holds(bare(text), names.get(event.batch, ""), wanted)
    ]
    return sorted(found, key=lambda hit: hit.at, reverse=True)


def _holds(text: str, name: str, wanted: Sequence[str]) -> bool:
    here = [word in text for word in wanted]
    return any(here) and all(is_here or word in name for is_here, word in zip(here, wanted, strict=True))


def _names(events: Iterable[Event]) -> dict[str | None, str]:
    names: dict[str | None, str] = {}
    for event in events:
        if isinstance(event, Mixed):
            names[event.batch] = bare(f"{event.batch} {event.name}")
    return names


def _texts(event: Event) -> Iterator[tuple[str, str]]:
    """(where, text) of everything somebody wrote in an entry."""
    found = _own(event)
    if event.note and not isinstance(event, Tasted):
        found.append(("note", event.note))
    return ((where, text) for where, text in found if text)


def _own(event: Event) -> list[tuple[str, str]]:
    match event:
        case Mixed():
            ingredients = ", ".join(part.what for part in event.ingredients)
            name = " ".join(dict.fromkeys(part for part in (event.batch, event.name) if part))
            return [("name", name), ("style", event.style or ""), ("ingredient", ingredients)]
        case Pitched():
            return [("yeast", event.yeast.label)]
        case Added() | Removed():
            return [("ingredient", event.what)]
        case Seen():
            return [("look", ", ".join((*event.smell, *event.signs)))]
        case Tasted():
            parts = (event.look, event.nose, event.palate, event.balance, event.note)
            return [("tasting", "; ".join(part for part in parts if part))]
        case Moved():
            return [("place", event.place)]
        case Racked():
            return [("vessel", event.vessel.kind)]
        case Bottled():
            return [("lot", ", ".join(str(called) for lot in event.lots if (called := getattr(lot, "lot", None))))]
    return []
