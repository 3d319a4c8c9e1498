"""What a must comes to: masses, volumes, gravity and room in the vessel."""

from collections.abc import Sequence
from dataclasses import dataclass

from .gravity import density_from_sg, sg_from_brix
from .honey import honey_specific_gravity
from .library import Ingredient
from .limits import within
from .root import crossing
from .strength import potential_abv

PULP_KG_L = 1.5
"""Density of skins, stones and fibre, about that of cellulose. A judgement; it only fills the jug."""


@dataclass(frozen=True, slots=True)
class Part:
    """One thing that goes in: its mass in kg, sugar and water in %, share of the sugar that ferments."""

    what: str
    kg: float
    sugar_pct: float
    water_pct: float
    fermentable_share: float = 1.0

    def __post_init__(self) -> None:
        within(f"mass of {self.what}", self.kg, 0, 100_000, "kg")
        within(f"sugar in {self.what}", self.sugar_pct, 0, 100, "%")
        within(f"water in {self.what}", self.water_pct, 0, 100, "%")
        within(f"sugar and water in {self.what} together", self.sugar_pct + self.water_pct, 0, 100.001, "%")
        within(f"fermentable share of {self.what}", self.fermentable_share, 0, 1)


@dataclass(frozen=True, slots=True)
class Must:
    """A mixed must: litres of liquid and of pulp, kg, specific gravity, and what it may come to."""

    volume_l: float
    pulp_l: float
    liquid_kg: float
    sugar_kg: float
    fermentable_sugar_kg: float
    water_added_kg: float
    brix: float
    sg: float
    potential_abv: float


def part(ingredient: Ingredient, kg: float) -> Part:
    """A weighed ingredient, in kg, with the library's figures for it.

    Range: 0 to 100 000 kg. Errors: ValueError outside.

    >>> from mustwatch.trade.library import INGREDIENTS
    >>> part(INGREDIENTS["honey"], 1.5).water_pct
    17.2

    Source: the ingredient's own.
    """
    return Part(ingredient.name, kg, ingredient.sugar_pct, ingredient.water_pct, ingredient.fermentable_share)


def kg_from_litres(ingredient: Ingredient, volume_l: float) -> float:
    """Mass in kg of a measured liquid ingredient: honey, juice, syrup or water.

    Range: 0 to 10 000 L; not for fruit or dry sugar, which are weighed. Errors: ValueError.
    Formula: honey by its moisture table, the rest as a sugar solution.

    >>> from mustwatch.trade.library import INGREDIENTS
    >>> kg_from_litres(INGREDIENTS["honey"], 1.0)
    1.419

    Source: White 1975 for honey; NBS C440 and ICUMSA SPS-4 for sugar solutions.
    """
    within("volume", volume_l, 0, 10_000, "L")
    if ingredient.category == "fruit" or ingredient.water_pct < 10:
        raise ValueError(f"{ingredient.name} is not a liquid: weigh it, a litre of it says little")
    if ingredient.category == "honey" and 13 <= ingredient.water_pct <= 25:
        return volume_l * density_from_sg(honey_specific_gravity(ingredient.water_pct)) / 1000.0
    dissolved_pct = 100.0 * ingredient.sugar_pct / (ingredient.sugar_pct + ingredient.water_pct)
    return volume_l * density_from_sg(sg_from_brix(dissolved_pct)) / 1000.0


def mixed(parts: Sequence[Part], water_l: float | None = None, final_l: float | None = None) -> Must:
    """The must that parts and water make: litres, kg, Brix, specific gravity, potential % vol.

    Range: give either the water added or the final volume of liquid, 0 to 10 000 L; the mixture
    may hold up to 79 % sugar. "Water added" and "made up to" are not the same must.
    Errors: ValueError when both or neither is given, when nothing is mixed, or when the parts
    alone already fill more than the final volume.
    Formula: masses add; Brix = sugar / liquid; volume = mass / density(Brix). Pulp is left out of
    the liquid and counted as volume apart.

    >>> honey = Part("honey", 1.3608, 82.9, 17.1)
    >>> round(mixed([honey], water_l=3.785).sg, 3), round(mixed([honey], final_l=3.785).sg, 3)
    (1.092, 1.114)

    Source: mass balance with NBS C440.
    """
    if (water_l is None) == (final_l is None):
        raise ValueError("give either the water added or the final volume, not both and not neither")
    sugar_kg = sum(each.kg * each.sugar_pct / 100 for each in parts)
    liquid_kg = sugar_kg + sum(each.kg * each.water_pct / 100 for each in parts)
    if water_l is not None:
        water_kg = within("water added", water_l, 0, 10_000, "L") * density_from_sg(1.0) / 1000.0
    else:
        water_kg = _water_to_fill(sugar_kg, liquid_kg, within("final volume", final_l or 0.0, 0, 10_000, "L"))
    return _must(parts, sugar_kg, liquid_kg + water_kg, water_kg)


def _must(parts: Sequence[Part], sugar_kg: float, liquid_kg: float, water_kg: float) -> Must:
    if liquid_kg <= 0:
        raise ValueError("nothing is mixed: give at least one ingredient with a mass, or some water")
    pulp_kg = sum(each.kg * max(0.0, 100 - each.sugar_pct - each.water_pct) / 100 for each in parts)
    brix = 100 * sugar_kg / liquid_kg
    sg = sg_from_brix(within("sugar of the mixture", brix, 0, 79, "% by mass"))
    return Must(
        volume_l=liquid_kg / density_from_sg(sg) * 1000.0,
        pulp_l=pulp_kg / PULP_KG_L,
        liquid_kg=liquid_kg,
        sugar_kg=sugar_kg,
        fermentable_sugar_kg=sum(each.kg * each.sugar_pct / 100 * each.fermentable_share for each in parts),
        water_added_kg=water_kg,
        brix=brix,
        sg=sg,
        potential_abv=potential_abv(min(max(sg, 1.0), 1.2)),
    )


def _water_to_fill(sugar_kg: float, liquid_kg: float, final_l: float) -> float:
    """Water, kg, that brings the liquid to the final volume, by false position."""

    def volume_l(water_kg: float) -> float:
        total_kg = liquid_kg + water_kg
        brix = min(79.0, 100 * sugar_kg / total_kg) if total_kg else 0.0
        return total_kg / density_from_sg(sg_from_brix(brix)) * 1000.0

    if volume_l(0.0) > final_l + 1e-9:
        raise ValueError(f"the ingredients alone fill {volume_l(0.0):.2f} L, more than the final {final_l:g} L")
    return crossing(lambda water_kg: volume_l(water_kg) - final_l, 0.0, final_l * 1.1)


def free_space_l(must: Must, capacity_l: float) -> float:
    """Room above liquid and pulp, in litres; negative when it will not fit.

    Range: vessel 0.1 to 10 000 L. Errors: ValueError outside.
    Formula: capacity less liquid less pulp. A vigorous start wants a fifth of the vessel free.

    >>> free_space_l(mixed([Part("honey", 1.5, 82.8, 17.2)], final_l=4.5), 5.0)
    0.5

    Source: volume balance; the fifth is common practice.
    """
    return within("vessel", capacity_l, 0.1, 10_000, "L") - must.volume_l - must.pulp_l
