"""The vocabulary of the ledger: one class a kind, one JSON object a line.

Quantities are metric and as observed; what was typed is kept beside them in
`typed`. Corrections for temperature and instrument are never stored, they are
made when folding. Unknown keys are kept on the event, unknown kinds become
`UnknownKind`: a newer program's lines survive an older one.
"""

import re
from datetime import datetime
from typing import Annotated, Any, Literal

from mustwatch.ledger.parts import (  # noqa: F401  an event and its parts are taken from one place
    VENTED_CLOSURES,
    Amount,
    BottleKind,
    Category,
    Celsius,
    Closure,
    Gravity,
    Ingredient,
    Lot,
    Positive,
    PouredLot,
    Priming,
    Target,
    Vessel,
    Yeast,
    YeastClassName,
)
from mustwatch.ledger.shape import Shape, Within

FORMAT_VERSION = 1
TAG = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")


class Event(Shape):
    """What every line has: `id` orders and names it, `at` is when it happened, `batch` whom it concerns.

    sure, where a kind has it: its amounts were asked about, and stand.
    harmless: dangers that the words of its note were asked about and do not mean, by their topic.
    """

    v: int = FORMAT_VERSION
    id: str
    seq: int | None = None
    at: datetime
    batch: str | None = None
    kind: str
    note: str | None = None
    harmless: tuple[str, ...] = ()
    crc: str | None = None

    @property
    def by_itself(self) -> bool:
        """Whether a probe or this program wrote it down, and no person."""
        return self.kind in ("probed", "witnessed") or getattr(self, "probe", None) is not None


class Mixed(Event):
    """from_batch: whose drink, or with `recipe_only` whose recipe, it was made from."""

    kind: Literal["mixed"] = "mixed"
    name: str = ""
    style: str | None = None
    volume_l: Positive | None = None
    vessel: Vessel = Vessel()
    ingredients: tuple[Ingredient, ...] = ()
    target: Target | None = None
    from_batch: str | None = None
    recipe_only: bool | None = None
    sure: bool | None = None


class Pitched(Event):
    kind: Literal["pitched"] = "pitched"
    yeast: Yeast = Yeast()
    g: Amount | None = None
    must_c: Celsius | None = None


class Read(Event):
    kind: Literal["read"] = "read"
    gravity: Gravity | None = None
    must_c: Celsius | None = None
    ph: Annotated[float, Within(ge=0, le=14)] | None = None
    ta_g_l: Amount | None = None
    free_so2_mg_l: Amount | None = None
    air_c: Celsius | None = None
    place: str | None = None
    probe: str | None = None
    n: Annotated[int, Within(ge=1)] | None = None


class Probed(Event):
    """The state of a probe has changed; `why` in words. While it is not well it gives no readings."""

    kind: Literal["probed"] = "probed"
    probe: str
    state: Literal["lost", "stuck", "absurd", "well"]
    place: str | None = None
    why: str | None = None


class Seen(Event):
    kind: Literal["seen"] = "seen"
    airlock: Literal["bubbling", "still", "dry", "foamed"] | None = None
    surface: Literal["clean", "foam", "ring", "rafts", "film", "fuzzy", "coloured"] | None = None
    clarity: Literal["murky", "hazy", "clear"] | None = None
    smell: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()


class Added(Event):
    kind: Literal["added"] = "added"
    what: str
    category: Category = "other"
    g: Amount | None = None
    l: Amount | None = None  # noqa: E741  the format's own key
    nitrogen_mg_per_g: Amount | None = None
    taste_by: datetime | None = None


class Removed(Event):
    kind: Literal["removed"] = "removed"
    what: str


class Swirled(Event):
    kind: Literal["swirled"] = "swirled"
    how: str | None = None


class Aerated(Event):
    kind: Literal["aerated"] = "aerated"
    how: str | None = None


class CapPushed(Event):
    kind: Literal["cap_pushed"] = "cap_pushed"
    how: str | None = None


class Cleaned(Event):
    kind: Literal["cleaned"] = "cleaned"
    how: str | None = None


class Closed(Event):
    kind: Literal["closed"] = "closed"
    closure: Closure
    liquid: str | None = None
    fit: str | None = None


class Racked(Event):
    kind: Literal["racked"] = "racked"
    vessel: Vessel = Vessel()
    volume_l: Positive | None = None
    lees_l: Amount | None = None
    headspace_l: Amount | None = None


class Moved(Event):
    kind: Literal["moved"] = "moved"
    place: str = ""
    light: Literal["dark", "lit"] | None = None
    air_c: Celsius | None = None


class Bottled(Event):
    kind: Literal["bottled"] = "bottled"
    lots: tuple[Lot, ...] = ()
    style: Literal["still", "sparkling"] | None = None
    priming: Priming | None = None
    sure: bool | None = None


class PouredBack(Event):
    """Bottles emptied into a vessel again. lots: left out where it was all of them; closure: of that vessel."""

    kind: Literal["poured_back"] = "poured_back"
    lots: tuple[PouredLot, ...] = ()
    vessel: Vessel = Vessel()
    closure: Closure | None = None


class Heated(Event):
    """What was held how warm for how long; of bottles: c in the middle of a bottle."""

    kind: Literal["heated"] = "heated"
    what: Literal["must", "bottles"] = "must"
    c: Celsius
    minutes: Amount | None = None


class Took(Event):
    kind: Literal["took"] = "took"
    count: Annotated[int, Within(ge=1, le=100000)] = 1
    why: Literal["drunk", "given", "tested", "broken"] = "drunk"
    burst: bool | None = None


class Tasted(Event):
    kind: Literal["tasted"] = "tasted"
    look: str | None = None
    nose: str | None = None
    palate: str | None = None
    balance: str | None = None
    score_of_10: Annotated[float, Within(ge=0, le=10)] | None = None
    again: bool | None = None


class Noted(Event):
    kind: Literal["noted"] = "noted"


class Hushed(Event):
    kind: Literal["hushed"] = "hushed"
    rule: str
    until: datetime
    why: str | None = None


class Amended(Event):
    kind: Literal["amended"] = "amended"
    target: str
    set: dict[str, Any] = {}


class Withdrew(Event):
    kind: Literal["withdrew"] = "withdrew"
    target: str
    why: str | None = None


class Ended(Event):
    kind: Literal["ended"] = "ended"
    outcome: Literal["drunk", "given", "dumped", "vinegar"]
    sure: bool | None = None


class Instrument(Event):
    """An instrument of the cellar: `value * factor + offset` is what it should have read."""

    kind: Literal["instrument"] = "instrument"
    name: str
    what: Literal["hydrometer", "refractometer", "thermometer", "pH meter"] | None = None
    calibration_c: Celsius | None = None
    offset: float = 0.0
    division: float | None = None
    factor: float = 1.0


class Witnessed(Event):
    """What this device saw of the others: the highest number and the last id of each; accepted: known to be less."""

    kind: Literal["witnessed"] = "witnessed"
    devices: dict[str, int] = {}
    last: dict[str, str] = {}
    accepted: dict[str, int] = {}


class UnknownKind(Event):
    """A kind this program does not know: kept, shown as it is, folded into nothing."""


MODELS: dict[str, type[Event]] = {
    model.model_fields["kind"].default: model
    for model in (
        Mixed, Pitched, Read, Seen, Added, Removed, Swirled, Aerated, CapPushed, Cleaned, Closed, Racked, Moved,
        Bottled, PouredBack, Heated, Took, Tasted, Noted, Hushed, Amended, Withdrew, Ended, Instrument, Probed,
        Witnessed,
    )
}  # fmt: skip
KINDS = tuple(MODELS)
