"""Two batches beside each other: each fact in words and as a value, and both courses in one chart."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from mustwatch.judgement.profile import Fed, Profile
from mustwatch.ledger.events import Ingredient, Tasted
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import counted
from mustwatch.said.figures import CELSIUS, degrees, grams, gravity, litres, score_words
from mustwatch.said.telling import told

Points = Sequence[tuple[float, float]]
MARKS = ("a", "b", "*")  # of the first, of the second, of both


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact of a batch. part: recipe, course or outcome; key: stable, with its unit; value: None where it was not
    recorded; words: empty there."""

    part: str
    key: str
    what: str
    value: Any
    words: str


def facts_of(one: Profile, settings: Settings = CELSIUS) -> tuple[Fact, ...]:
    """The facts of a batch in a fixed order, so that those of two lie beside each other."""
    return (*_recipe(one, settings), *_course(one, settings), *_outcome(one, settings))


def _recipe(one: Profile, settings: Settings) -> list[Fact]:
    return [
        Fact("recipe", "style", "style", one.style, one.style or ""),
        Fact("recipe", "volume_l", "volume", one.volume_l, litres(one.volume_l) if one.volume_l else ""),
        Fact("recipe", "honey_kg", "honey", one.honey_kg, grams(one.honey_kg * 1000) if one.honey_kg else ""),
        Fact(
            "recipe",
            "ingredients",
            "ingredients",
            [_ingredient(part) for part in one.ingredients],
            _mixture(one.ingredients),
        ),
        Fact(
            "recipe",
            "start_sg",
            "start gravity",
            _rounded(one.start_sg),
            gravity(one.start_sg, settings) if one.start_sg else "",
        ),
        Fact("recipe", "start_ph", "start pH", one.start_ph, f"{one.start_ph:g}" if one.start_ph is not None else ""),
        Fact("recipe", "yeast", "yeast", one.yeast, _yeast(one)),
        Fact("recipe", "yeast_g", "yeast amount", one.yeast_g, grams(one.yeast_g) if one.yeast_g else ""),
        Fact("recipe", "added", "added later", [_fed(each) for each in one.fed], ", ".join(map(_fed_words, one.fed))),
    ]


def _course(one: Profile, settings: Settings) -> list[Fact]:
    coldest, warmest = one.coldest_c, one.warmest_c
    warm = ""
    if coldest is not None and warmest is not None:
        low, high = degrees(coldest, settings), degrees(warmest, settings)
        warm = low if low == high else f"{low} to {high}"
    return [
        Fact("course", "must_c", "must", None if coldest is None else [coldest, warmest], warm),
        Fact("course", "readings", "readings", len(one.readings), counted(len(one.readings), "reading")),
        Fact("course", "at_rest_day", "at rest after", one.rest_day, _days(one.rest_day)),
        Fact("course", "bottled_day", "bottled after", one.bottled_day, _days(one.bottled_day)),
    ]


def _outcome(one: Profile, settings: Settings) -> list[Fact]:
    made = one.alcohol
    bottles = f"{one.bottles_left} of {one.bottles_made} left" if one.bottles_made else ""
    return [
        Fact("outcome", "stage", "stage", one.stage, one.stage),
        Fact("outcome", "state", "state", one.state, one.state or ""),
        Fact("outcome", "sg", "gravity", _rounded(one.end_sg), gravity(one.end_sg, settings) if one.end_sg else ""),
        Fact(
            "outcome",
            "abv",
            "alcohol",
            made and round(made.best, 2),
            f"about {round(made.best * 2) / 2:g} %" if made else "",
        ),
        Fact("outcome", "bottles_made", "bottles", one.bottles_made or None, bottles),
        Fact("outcome", "score", "score", one.score, score_words(one.score) if one.score is not None else ""),
        Fact("outcome", "tastings", "tasted", [_tasting(each) for each in one.tastings], _tasted(one.tastings)),
    ]


def _rounded(sg: float | None) -> float | None:
    return None if sg is None else round(sg, 5)


def _days(day: float | None) -> str:
    return "" if day is None else counted(round(day), "day")


def _ingredient(part: Ingredient) -> dict[str, Any]:
    return {"what": part.what, "category": part.category, "kg": part.kg, "l": part.l}


def _mixture(parts: Sequence[Ingredient]) -> str:
    return ", ".join(" ".join(filter(None, (_amount(part.kg, part.l), part.what))) for part in parts)


def _amount(kg: float | None, volume_l: float | None) -> str:
    return grams(kg * 1000) if kg else litres(volume_l) if volume_l else ""


def _yeast(one: Profile) -> str:
    if one.yeast is None:
        return ""
    known = one.yeast_class if one.yeast_class not in (None, "unknown", one.yeast) else ""
    return f"{one.yeast} ({known})" if known else one.yeast


def _fed(each: Fed) -> dict[str, Any]:
    return {"day": each.day, "what": each.what, "category": each.category, "g": each.g, "l": each.l}


def _fed_words(each: Fed) -> str:
    amount = grams(each.g) if each.g else litres(each.l) if each.l else ""
    return " ".join(filter(None, (f"day {round(each.day)}:", amount, each.what)))


def _tasting(each: Tasted) -> dict[str, Any]:
    return {"at": each.at, "score": each.score_of_10, "text": told(each), "note": each.note}


def _tasted(tastings: Sequence[Tasted]) -> str:
    return "; ".join(
        " ".join(filter(None, (told(each).removeprefix("tasted ").strip(), each.note))) for each in tastings
    )


def differs(first: Sequence[Fact], second: Sequence[Fact]) -> list[tuple[Fact, Fact]]:
    """The facts that differ as they are told: half a thousandth of a gravity is no difference."""
    return [(a, b) for a, b in zip(first, second, strict=True) if a.words != b.words]


def chart(first: Points, second: Points, settings: Settings = CELSIUS, width: int = 66, height: int = 12) -> list[str]:
    """Both courses in one chart: gravity by days from the pitching, `a` the first, `b` the second, `*` both.

    No line where neither was read.
    """
    every = [*first, *second]
    if not every:
        return []
    high, low = max(sg for _, sg in every), min(sg for _, sg in every)
    last, start = max(day for day, _ in every), min(0.0, min(day for day, _ in every))
    rows = [[" "] * width for _ in range(height)]
    for mark, points in zip(MARKS[:2], (first, second), strict=True):
        for day, sg in points:
            down = round((high - sg) / max(high - low, 1e-6) * (height - 1))
            across = round((day - start) / max(last - start, 1e-6) * (width - 1))
            rows[down][across] = mark if rows[down][across] in (" ", mark) else MARKS[2]
    labels = {0: gravity(high, settings), height - 1: gravity(low, settings)}
    lines = [f"{labels.get(place, ''):>7}  {''.join(row).rstrip()}".rstrip() for place, row in enumerate(rows)]
    return [*lines, f"{'':9}{f'day {round(start)}':<{width // 2}}{f'day {round(last)}':>{width - width // 2}}"]
