"""What the trade knows of its materials: yeasts, honeys, fruits, juices and sugars.

The figures live in data/*.toml beside this file and are read when first asked for. A cellar
may add to them or overrule them with tables of the same shape.
"""

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Generic, NamedTuple, TypeVar

from .limits import within

Kind = TypeVar("Kind")


class YeastClass(NamedTuple):
    """A class of yeast: what alcohol it stands, % vol, and the must it likes, °C."""

    name: str
    tolerance_low: float
    tolerance_high: float
    low_c: float
    high_c: float
    note: str
    source: str
    confidence: str


class Ingredient(NamedTuple):
    """Something that brings sugar or water: % by mass, and the share of the sugar that ferments.

    sugar_pct counts all that is dissolved and lifts the gravity as sugar does. What is neither
    sugar nor water is pulp, stone and skin.
    """

    name: str
    category: str
    sugar_pct: float
    water_pct: float
    fermentable_share: float
    note: str
    source: str
    confidence: str


def _table(name: str) -> dict[str, dict]:
    import tomllib  # slow to load, and most commands never open the library

    return tomllib.loads((Path(__file__).parent / "data" / f"{name}.toml").read_text(encoding="utf-8"))


class Catalogue(Mapping[str, Kind], Generic[Kind]):
    """Named materials, read from the package when first looked at."""

    def __init__(self, load: Callable[[], dict[str, Kind]]) -> None:
        self._load = cache(load)

    def __getitem__(self, name: str) -> Kind:
        return self._load()[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._load())

    def __len__(self) -> int:
        return len(self._load())


def _yeast(name: str, figures: Mapping[str, object]) -> YeastClass:
    """One class from its table; every fault is told in one line naming the class."""
    missing = [key for key in YEAST_FIGURES if not isinstance(figures.get(key), (int, float))]
    if missing:
        raise ValueError(f"yeast class {name!r} needs a number for {', '.join(missing)}")
    low_abv, high_abv, low_c, high_c = (float(figures[key]) for key in YEAST_FIGURES)  # type: ignore[arg-type]
    within(f"lower tolerance of {name!r}", low_abv, 3, 25, "% vol")
    within(f"upper tolerance of {name!r}", high_abv, low_abv, 25, "% vol")
    within(f"lowest temperature of {name!r}", low_c, 0, 40, "°C")
    within(f"highest temperature of {name!r}", high_c, low_c, 45, "°C")
    words = (str(figures.get(key, default)) for key, default in WORDS)
    return YeastClass(name, low_abv, high_abv, low_c, high_c, *words)


YEAST_FIGURES = ("tolerance_low_abv", "tolerance_high_abv", "low_c", "high_c")
WORDS = (("note", ""), ("source", "from the cellar settings"), ("confidence", "L"))


def _shipped_yeasts() -> dict[str, YeastClass]:
    return {name: _yeast(name, figures) for name, figures in _table("yeasts").items()}


YEAST_CLASSES: Mapping[str, YeastClass] = Catalogue(_shipped_yeasts)
"""The yeast classes shipped with the package, by name; `unknown` spans them all."""


def yeast_classes(extra: Mapping[str, Mapping[str, object]] | None = None) -> dict[str, YeastClass]:
    """Yeast classes by name, % vol and °C, the shipped ones with the cellar's own laid over.

    Range: extra holds a table per class with tolerance_low_abv, tolerance_high_abv (3 to 25 % vol),
    low_c, high_c (0 to 45 °C), and if wished note, source, confidence; figures left out of a
    class that is shipped keep their shipped value. Errors: ValueError naming class and fault.

    >>> yeast_classes()["white-wine"].tolerance_high
    15.0
    >>> yeast_classes({"ale": {"tolerance_high_abv": 11.0}})["ale"].tolerance_high
    11.0

    Source: each class carries its own.
    """
    shipped = _table("yeasts")
    merged = {**shipped, **{name: {**shipped.get(name, {}), **own} for name, own in (extra or {}).items()}}
    return {name: _yeast(name, figures) for name, figures in merged.items()}


CATEGORIES = ("honey", "fruit", "juice", "sugar", "water")


def _ingredient(name: str, figures: Mapping[str, object], category: str) -> Ingredient:
    """One ingredient from its table; every fault is told in one line naming it."""
    kind = str(figures.get("category", category))
    if kind not in CATEGORIES:
        raise ValueError(f"category of {name!r} must be one of {', '.join(CATEGORIES)}, got {kind!r}")
    given = dict(figures)
    if kind == "honey":
        given.setdefault("fermentable_share", HONEY_FERMENTABLE_SHARE)
        if isinstance(given.get("water_pct"), (int, float)):
            given.setdefault("sugar_pct", 100.0 - _number(name, given, "water_pct", 100))
    sugar_pct, water_pct = _number(name, given, "sugar_pct", 100), _number(name, given, "water_pct", 100)
    share = _number(name, {"fermentable_share": 1.0, **given}, "fermentable_share", 1)
    within(f"sugar and water of {name!r} together", sugar_pct + water_pct, 0, 100.001, "%")
    words = (str(figures.get(key, default)) for key, default in WORDS)
    return Ingredient(name, kind, sugar_pct, water_pct, share, *words)


def _number(name: str, figures: Mapping[str, object], label: str, most: float) -> float:
    value = figures.get(label)
    if not isinstance(value, (int, float)):
        raise ValueError(f"ingredient {name!r} needs a number for {label}")
    return float(within(f"{label} of {name!r}", value, 0, most))


HONEY_FERMENTABLE_SHARE = 0.95
"""Share of honey's solids that yeast can use: glucose, fructose, sucrose and the disaccharides make
78 of 82.8 parts in the mean of US honeys; higher sugars, acids, ash and the undetermined do not."""

SHELVES = (("honeys", "honey"), ("fruits", "fruit"), ("juices", "juice"), ("sugars", "sugar"))


def _shipped_ingredients() -> dict[str, Ingredient]:
    return {
        name: _ingredient(name, figures, category)
        for shelf, category in SHELVES
        for name, figures in _table(shelf).items()
    }


INGREDIENTS: Mapping[str, Ingredient] = Catalogue(_shipped_ingredients)
"""The honeys, fruits, juices and sugars shipped with the package, by name."""


def ingredients(extra: Mapping[str, Mapping[str, object]] | None = None) -> dict[str, Ingredient]:
    """Ingredients by name, % by mass, the shipped ones with the cellar's own laid over.

    Range: extra holds a table per ingredient with category (honey, fruit, juice, sugar, water),
    sugar_pct and water_pct (0 to 100, together no more; a honey needs only its water), and if
    wished fermentable_share (0 to 1), note, source, confidence. Errors: ValueError naming the
    ingredient and the fault.

    >>> ingredients()["honey"].water_pct
    17.2
    >>> ingredients({"from the hill": {"category": "honey", "water_pct": 19.0}})["from the hill"].sugar_pct
    81.0

    Source: each ingredient carries its own.
    """
    own = {name: _ingredient(name, _overlaid(name, figures), "other") for name, figures in (extra or {}).items()}
    return {**INGREDIENTS, **own}


def _overlaid(name: str, figures: Mapping[str, object]) -> dict[str, object]:
    """The cellar's figures over the shipped ones, so that one figure may be changed alone."""
    shipped = INGREDIENTS.get(name)
    if shipped is None:
        return dict(figures)
    kept = {key: getattr(shipped, key) for key in ("category", "sugar_pct", "water_pct", "fermentable_share")}
    if shipped.category == "honey" and "water_pct" in figures and "sugar_pct" not in figures:
        del kept["sugar_pct"]
    return {**kept, **figures}
