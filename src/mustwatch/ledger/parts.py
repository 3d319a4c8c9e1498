"""The parts that events are made of: closures, amounts, vessels, lots."""

from typing import Annotated, Any, Literal

from mustwatch.ledger.shape import Key, Shape, Within

Closure = Literal[
    "airlock",
    "blow-off",
    "loose-cap",
    "cloth",
    "solid-bung",
    "tight-cap",
    "crown-cap",
    "cork",
    "swing-top",
    "keg",
]
VENTED_CLOSURES = frozenset({"airlock", "blow-off", "loose-cap", "cloth"})
Category = Literal[
    "honey", "sugar", "juice", "fruit", "water", "nutrient", "oak", "spice", "acid", "carbonate",
    "sulfite", "sorbate", "fining", "tannin", "yeast", "other",
]  # fmt: skip
BottleKind = Literal["still-wine", "beer", "sparkling", "swing-top", "pet", "other"]
YeastClassName = Literal["bread", "ale", "lager", "white-wine", "sparkling", "high-tolerance", "unknown"]

Celsius = Annotated[float, Within(ge=-40, le=130)]
Amount = Annotated[float, Within(ge=0, le=1e6)]
Positive = Annotated[float, Within(gt=0, le=1e6)]


class Vessel(Shape):
    kind: str = "unknown"
    capacity_l: Positive | None = None
    rating_bar: Amount | None = None


class Ingredient(Shape):
    what: str
    category: Category = "other"
    kg: Amount | None = None
    l: Amount | None = None  # noqa: E741  the format's own key
    sugar_pct: Annotated[float, Within(ge=0, le=100)] | None = None
    water_pct: Annotated[float, Within(ge=0, le=100)] | None = None


class Target(Shape):
    sg: float | None = None
    final_sg: float | None = None
    finish: Literal["dry", "sweet", "sparkling"] | None = None


class Yeast(Shape):
    label: str = "yeast"
    yeast_class: Annotated[YeastClassName, Key("class")] = "unknown"
    tolerance_abv: Annotated[float, Within(ge=0, le=30)] | None = None
    low_c: Celsius | None = None
    high_c: Celsius | None = None


class Gravity(Shape):
    value: float
    scale: Literal["sg", "brix", "plato"] = "sg"
    instrument: str | None = None
    sample_c: Celsius | None = None
    error: Annotated[float, Within(gt=0, le=0.1)] | None = None


class Lot(Shape):
    lot: Any = None  # a name or a number, as whoever wrote the line tells lots apart
    size_ml: Positive
    count: Annotated[int, Within(ge=0, le=100000)]
    bottle: BottleKind = "other"
    closure: Closure | None = None
    rating_bar: Amount | None = None


class PouredLot(Shape):
    """Bottles that were emptied into a vessel again: of which lot; count left out: all that were left of it."""

    lot: Any = None  # a name or a number, as whoever wrote the line tells lots apart
    size_ml: Positive | None = None
    count: Annotated[int, Within(ge=0, le=100000)] | None = None


class Priming(Shape):
    what: str
    g: Amount
