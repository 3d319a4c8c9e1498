"""The lots of the shelf in words."""

from datetime import datetime

from mustwatch.cellar.lots import LotLeft
from mustwatch.judgement.keeping import Window
from mustwatch.ledger.visible import counted
from mustwatch.said.dates import day
from mustwatch.said.telling import lot_kind


def lot_words(lot: LotLeft, now: datetime) -> str:
    """A lot, what is left of it and what became of the rest: `750 ml still-wine cork: 9 of 12 left; 2 opened`."""
    kind = lot_kind(lot.kind) if lot.kind else "bottles not described"
    gone = [f"{count} {what}" for count, what in
            ((lot.opened, "opened"), (lot.given, "given"), (lot.broken, "broken"), (lot.poured, "poured back"))
            if count]  # fmt: skip
    if lot.unsure and lot.left is None and lot.made is not None:
        gone.append(f"{lot.unsure} more taken, of which lot is not known")
    rest = f"; {', '.join(gone)}" if gone else ""
    return f"{kind}, bottled {day(lot.bottled.at, now)}: {_left(lot)}{rest}"


def _left(lot: LotLeft) -> str:
    if lot.made is None or lot.most_left is None:
        return "how many there are is not recorded"
    if lot.left is not None:
        return f"{lot.left} of {lot.made} left"
    return f"{lot.least_left} to {lot.most_left} of {lot.made} left"


def window_words(window: Window, now: datetime) -> str:
    """When a lot is at its best, by what, and that this is a habit and no law."""
    if window.abv is None:
        return f"when to drink is not known: {' and '.join(window.missing)} is not recorded"
    kind = f"about {round(window.abv)} % vol{', sweet' if window.sweet else ''}"
    return f"{_start(window, now)}{_end(window, now)}; by habit, at {kind}"


def _start(window: Window, now: datetime) -> str:
    if window.start is None:
        return "from when it drinks well is not known"
    return f"drinks well from {day(window.start, now)}" if window.start > now else "drinks well now"


def _end(window: Window, now: datetime) -> str:
    if window.end is None:
        return ""
    on = day(window.end, now)
    return f", keeps until about {on}" if window.end > now else f", past {on}, until when its like keeps: taste it"


def bottles_in_all(count: int, lots: int) -> str:
    """`23 bottles in 4 lots`."""
    return f"{counted(count, 'bottle')} in {counted(lots, 'lot')}"
