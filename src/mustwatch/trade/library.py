"""What the trade knows of its materials: yeasts, honeys, fruits, juices and sugars.

The figures live in data/*.toml beside this file and are read when first asked for. A cellar
may add to them or overrule them with tables of the same shape.
"""

import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Generic, TypeVar

from .limits import within

Kind = TypeVar("Kind")


@dataclass(frozen=True, slots=True)
class YeastClass:
    """A class of yeast: what alcohol it stands, % vol, and the must it likes, °C."""

    name: str
    tolerance_low: float
    tolerance_high: float
    low_c: float
    high_c: float
    note: str
    source: str
    confidence: str


def _table(name: str) -> dict[str, dict]:
    return tomllib.loads(files(__package__).joinpath("data", f"{name}.toml").read_text(encoding="utf-8"))


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
