"""An outlook as it would be after something that is only supposed, beside the one as it stands."""

from typing import Any

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.forecast.outlook import Outlook
from mustwatch.ledger.events import Added, Closed, Event, Moved
from mustwatch.ledger.settings import Settings
from mustwatch.said.figures import CELSIUS
from mustwatch.said.outlook import course_words, pressure_words
from mustwatch.said.outlook_json import to_json
from mustwatch.said.telling import told


def if_words(before: Outlook, then: Outlook, event: Event, settings: Settings = CELSIUS) -> list[str]:
    """What was supposed, how it stands without that, and what of it nobody can know."""
    stands = course_words(before, settings) or ["at rest"]
    return [
        f"supposed, not saved: {told(event, settings)}",
        f"as it stands: {stands[0]}",
        *(pressure_words(then.sealing) if isinstance(event, Closed) and then.sealing else []),
        *_unknown(event),
    ]


def if_json(before: Outlook, then: Outlook, after: Batch, event: Event, settings: Settings) -> dict[str, Any]:
    """The outlook as it would be, with `supposed` and, under `as_it_stands`, the figures without it."""
    stands = to_json(before, after)
    kept = ("state", "now_sg", "final_sg", "done_on", "stall_probability", "gas_to_come_volumes")
    words = if_words(before, then, event, settings)
    return to_json(then, after) | {"supposed": words, "as_it_stands": {name: stands[name] for name in kept}}


def _unknown(event: Event) -> list[str]:
    if isinstance(event, Moved):
        return ["how much a degree speeds this yeast is a rule of thumb; a stall may stay one"]
    if isinstance(event, Closed):
        return ["never trust a sealed vessel to a forecast: only readings that agree prove rest"]
    if isinstance(event, Added) and event.category == "nutrient":
        return ["how hungry the yeast is nobody has measured: the band is wider, not better"]
    return ["how much of new sugar ferments is not known until it is read again"]


def then_words(before: Outlook, then: Outlook, settings: Settings = CELSIUS) -> list[str]:
    """What an entry changes about where a batch is heading; nothing where that is not foreseen or stays as it is."""
    was, will = course_words(before, settings), course_words(then, settings)
    return [f"outlook: {will[0]}"] if will and will[:1] != was[:1] else []
