"""Which lots of bottles the words of a person may mean."""

import re
from collections.abc import Iterable, Sequence

from mustwatch.ledger.events import Bottled, Lot
from mustwatch.said.telling import lots_in_words


def lots_meant(bottled: Sequence[Bottled], texts: Iterable[str] = ()) -> str:
    """The lots in words: those whose size or name the texts tell, where they do, else all."""
    lots = [lot for event in bottled for lot in event.lots]
    told = " ".join(texts)
    named = [lot for lot in lots if _names(told, lot)]
    first = bottled[0]
    return lots_in_words(first.model_copy(update={"lots": tuple(named or lots)}))


def _names(text: str, lot: Lot) -> bool:
    size = f"{lot.size_ml:.0f}"
    name = rf"\blot {re.escape(str(lot.lot))}\b" if lot.lot is not None else "(?!)"
    return re.search(rf"\b{size} ?(?:ml)?\b|{name}", text, re.IGNORECASE) is not None
