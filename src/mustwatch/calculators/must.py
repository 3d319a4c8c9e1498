"""What ingredients come to: gravity, strength, room in the vessel."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import must as trade
from mustwatch.trade import units
from mustwatch.trade.library import Ingredient, ingredients

from . import shown
from .form import HOUSE, NOTHING_SETTLED, Answer, Calculation, Field, House


def parts(text: str, house: House = NOTHING_SETTLED) -> list[trade.Part]:
    """Ingredients from text such as `honey 1.5 kg, apple-juice 2 L`, each in kg with its sugar and water.

    Range: names of the library, weighed; liquids may be measured. Errors: ValueError naming what is
    not known. Formula: none. Source: the library.

    >>> parts("honey 1.5 kg")[0].kg
    1.5
    """
    known = ingredients(house.ingredients)
    found = [_part(piece.strip(), known, house.gallon) for piece in text.replace(";", ",").split(",") if piece.strip()]
    if not found:
        raise ValueError("ingredients: write them like honey 1.5 kg, raspberry 500 g")
    return found


def _part(piece: str, known: Mapping[str, Ingredient], gallon: str | None) -> trade.Part:
    name = max((each for each in known if _starts(piece, each)), key=len, default="")
    if not name:
        raise ValueError(f"ingredients: {piece!r} does not begin with one I know: {', '.join(known)}")
    return trade.part(known[name], _kg(piece[len(name) :].strip(), known[name], gallon))


def _starts(piece: str, known: str) -> bool:
    low = piece.lower()
    return any(low.startswith(form.lower() + " ") for form in (known, known.replace("-", " ")))


def _kg(amount: str, ingredient: Ingredient, gallon: str | None) -> float:
    try:
        return units.parse_mass_kg(amount)
    except ValueError as no_mass:
        try:
            volume_l = units.parse_volume_l(amount, gallon)
        except units.WhichUnit:
            raise
        except ValueError:
            raise no_mass from None
        return trade.kg_from_litres(ingredient, volume_l)


def work(values: Mapping[str, Any]) -> Answer:
    mixed = trade.mixed(parts(values["ingredients"], values[HOUSE]), water_l=values["water"], final_l=values["volume"])
    result = {
        "sg": mixed.sg,
        "brix": mixed.brix,
        "volume_l": mixed.volume_l,
        "water_l": mixed.water_added_kg / 0.998203,
        "sugar_kg": mixed.sugar_kg,
        "fermentable_sugar_kg": mixed.fermentable_sugar_kg,
        "pulp_l": mixed.pulp_l,
        "potential_abv": mixed.potential_abv,
    }
    lines = [
        ("start gravity", f"{shown.sg(mixed.sg)} ({mixed.brix:.1f} Brix)"),
        ("liquid", shown.litres(mixed.volume_l)),
        ("water to add", shown.litres(result["water_l"])),
        ("if it ends dry", shown.alcohol(mixed.potential_abv)),
    ]
    if mixed.pulp_l > 0.005:
        lines.append(("pulp and skins", shown.litres(mixed.pulp_l)))
    cautions = ["Mix well, then read the gravity: honey is uneven, allow 10 points either way until it is read."]
    if values["vessel"] is not None:
        _add_vessel(mixed, values["vessel"], result, lines, cautions)
    if mixed.sg > 1.120:
        cautions.append(f"A start of {shown.sg(mixed.sg)} strains most yeast: dilute, or feed honey in later.")
    cautions.append("Never pour hot liquid into a glass jug, and keep honey from infants under 12 months.")
    return Answer(result, tuple(lines), tuple(cautions))


def _add_vessel(
    mixed: trade.Must, vessel_l: float, result: dict[str, Any], lines: list[tuple[str, str]], cautions: list[str]
) -> None:
    free_l = trade.free_space_l(mixed, vessel_l)
    result["free_space_l"], result["free_share"] = free_l, free_l / vessel_l
    if free_l < 0:
        cautions.insert(0, f"It does not fit: {shown.litres(-free_l)} too much for the vessel.")
        lines.append(("free space", "none"))
        return
    lines.append(("free space", f"{shown.litres(free_l)}, {100 * free_l / vessel_l:.0f} % of the vessel"))
    wanted = 0.20 if mixed.pulp_l > 0.005 else 0.10
    if free_l / vessel_l < wanted:
        cautions.insert(0, f"Too full for a start: leave {wanted:.0%} free, or fit a wide blow-off tube.")


CALCULATION = Calculation(
    name="must",
    fields=(
        Field("ingredients", "parts", "Ingredients", "what goes in, by mass; liquids by volume too"),
        Field("water", "volume", "Water added", "water poured in (or give the volume it is made up to)", optional=True),
        Field("volume", "volume", "Made up to", "final volume of liquid (or give the water)", optional=True),
        Field("vessel", "volume", "Vessel", "its capacity, for the free space", optional=True),
    ),
    work=work,
    method="masses of sugar and water add up; Brix gives the density, so the volume; pulp counts apart",
    source="mass balance with NBS C440 and ICUMSA SPS-4; composition from the library, a source to each",
    range="up to 80 % sugar, 10 000 L; gravities of a real honey within about 10 points",
    example='ingredients="honey 3 lb" volume="1 US gal"',
)
