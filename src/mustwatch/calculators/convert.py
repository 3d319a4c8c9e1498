"""One quantity in every unit of the trade."""

from collections.abc import Callable, Mapping
from typing import Any

from mustwatch.said.figures import degrees
from mustwatch.trade import units
from mustwatch.trade.gravity import (
    brix_from_sg,
    density_from_sg,
    plato_from_sg,
    sg_from_brix,
    sg_from_density,
    sugar_g_per_l_from_sg,
)
from mustwatch.trade.strength import potential_abv
from mustwatch.trade.sugar import brix_from_concentration

from . import shown
from .form import HOUSE, Answer, Calculation, Field
from .kinds import gravity

ALCOHOL_CAUTION = (
    "These hold for sugar in water. Once there is alcohol only the gravity itself still means anything: "
    "Brix, sugar and potential alcohol do not."
)


def _gravity_answer(sg: float) -> Answer:
    values: dict[str, Any] = {
        "sg": sg,
        "brix": brix_from_sg(sg),
        "plato": plato_from_sg(sg),
        "density_kg_m3": density_from_sg(sg),
        "sugar_g_per_l": sugar_g_per_l_from_sg(sg),
        "points": (sg - 1) * 1000,
    }
    lines = [
        ("gravity", f"{sg:.4f} SG 20/20"),
        ("Brix", f"{values['brix']:.2f} Bx"),
        ("Plato", f"{values['plato']:.2f} P"),
        ("density", f"{values['density_kg_m3']:.1f} kg/m3 at 20 °C"),
        ("sugar", f"{values['sugar_g_per_l']:.0f} g/L"),
    ]
    if 1.0 <= sg <= 1.2:
        values["potential_abv"] = potential_abv(sg)
        lines.append(("if it ends dry", shown.alcohol(values["potential_abv"])))
    return Answer(values, tuple(lines), (ALCOHOL_CAUTION,))


def _temperature_answer(temp_c: float) -> Answer:
    temp_f = temp_c * 9 / 5 + 32
    said = f"{degrees(temp_c)} = {degrees(temp_c, shown.FAHRENHEIT)}"
    return Answer({"c": temp_c, "f": temp_f}, (("temperature", said),))


def _volume_answer(volume_l: float) -> Answer:
    us_gal, imperial_gal = volume_l / units.US_GALLON_L, volume_l / units.IMPERIAL_GALLON_L
    values = {"l": volume_l, "ml": volume_l * 1000, "us_gal": us_gal, "imperial_gal": imperial_gal}
    values["us_fl_oz"] = us_gal * 128
    lines = (
        ("litres", f"{volume_l:.4g} L = {volume_l * 1000:.4g} ml"),
        ("US gallons", f"{us_gal:.4g} US gal = {us_gal * 128:.4g} US fl oz"),
        ("imperial gallons", f"{imperial_gal:.4g} imperial gal"),
    )
    return Answer(values, lines, ("US and imperial gallons differ by a fifth: always write which.",))


def _mass_answer(mass_kg: float) -> Answer:
    pounds = mass_kg / units.POUND_KG
    values = {"kg": mass_kg, "g": mass_kg * 1000, "lb": pounds, "oz": pounds * 16}
    lines = (
        ("kilograms", f"{mass_kg:.4g} kg = {mass_kg * 1000:.4g} g"),
        ("pounds", f"{pounds:.4g} lb = {pounds * 16:.4g} oz"),
    )
    return Answer(values, lines)


def _sugar_answer(text: str) -> Answer | None:
    amount, unit = units.parse_number(text)
    bare = "".join(unit.lower().split()).replace("³", "3")
    if bare == "g/l":
        return _gravity_answer(sg_from_brix(brix_from_concentration(amount)))
    if bare in ("kg/m3", "g/cm3", "g/ml", "kg/l"):
        return _gravity_answer(sg_from_density(amount if bare == "kg/m3" else amount * 1000))
    return None


def work(values: Mapping[str, Any]) -> Answer:
    text, gallon = values["value"], values["gallon"] or values[HOUSE].gallon
    found = _sugar_answer(text)
    if found:
        return found
    ways: tuple[tuple[Callable[[str], float], Callable[[float], Answer]], ...] = (
        (units.parse_temperature_c, _temperature_answer),
        (lambda typed: units.parse_volume_l(typed, gallon), _volume_answer),
        (units.parse_mass_kg, _mass_answer),
    )
    unit = units.parse_number(text)[1]
    for read, answer in ways if unit else ():
        try:
            return answer(read(text))
        except units.WhichUnit:
            raise
        except ValueError:
            continue
    return _gravity_answer(gravity(text))


CALCULATION = Calculation(
    name="convert",
    fields=(
        Field("value", "text", "Value", "what to convert: 1.050, 12Bx, 25P, 216 g/L, 1080 kg/m3, 70F, 5 US gal, 3 lb"),
        Field("gallon", "choice", "Gallon", "what a bare gallon means", optional=True, choices=("us", "imperial")),
    ),
    work=work,
    method="NBS C440 curve between SG 20/20 and Brix, and the same for Plato; exact factors for the rest",
    source="NBS Circular C440 for Brix and Plato; ICUMSA SPS-4; NIST SP 811",
    range="SG 0.96 to 1.41, -11 to 80 Brix or Plato, -30 to 150 °C; the brewers' own Plato drifts from it above 25",
    example="value=1.050",
)
