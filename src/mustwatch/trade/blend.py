"""Putting things together after the ferment: blend, dilute, sweeten, and what that does."""

from collections.abc import Sequence
from dataclasses import dataclass

from .gravity import density_from_sg
from .limits import within
from .root import crossing
from .tabarie import extract_g_per_l, sg_from_alcohol_and_extract

GAS_VOLUMES_PER_G_L = 0.488 / 1.977
"""Volumes of CO2 from one gram of fermentable sugar in a litre: 0.488 g of gas, 1.977 g to a litre."""


@dataclass(frozen=True, slots=True)
class Lot:
    """So many litres of something: specific gravity 20/20, % vol, free and total SO2 in mg/L.

    A sulfite figure that is not known is None, and stays not known in every mixture it enters.
    """

    volume_l: float
    sg: float
    abv: float = 0.0
    free_so2_mg_l: float | None = None
    total_so2_mg_l: float | None = None

    def __post_init__(self) -> None:
        within("volume", self.volume_l, 0, 100_000, "L")
        within("specific gravity", self.sg, 0.97, 1.2)
        within("alcohol", self.abv, 0, 25, "% vol")
        for name, value in (("free SO2", self.free_so2_mg_l), ("total SO2", self.total_so2_mg_l)):
            if value is not None:
                within(name, value, 0, 1000, "mg/L")


def blend(lots: Sequence[Lot]) -> Lot:
    """One lot made of several: litres, specific gravity, % vol, SO2 in mg/L.

    Range: at least one lot with volume; each as Lot allows. Errors: ValueError when empty.
    Formula: mass, alcohol, extract and SO2 add; the volume is what weighs what they weigh
    (Tabarie), so it is a little less than the sum. Free SO2 may fall further as it binds.

    >>> mixed = blend([Lot(3.0, 1.000, 14.0), Lot(1.0, 1.040, 10.0)])
    >>> mixed.volume_l, mixed.abv
    (4.0, 13.0)

    Source: mass balance with OIV-MA-AS2-03B, OIML R 22 and ICUMSA SPS-4.
    """
    kept = [lot for lot in lots if lot.volume_l > 0]
    if not kept:
        raise ValueError("nothing to blend: give at least one lot with a volume above 0 L")
    mass_kg = sum(lot.volume_l * density_from_sg(lot.sg) / 1000 for lot in kept)
    alcohol_l = sum(lot.volume_l * lot.abv / 100 for lot in kept)
    extract_g = sum(lot.volume_l * extract_g_per_l(lot.sg, lot.abv) for lot in kept)
    volume_l = _volume(mass_kg, alcohol_l, extract_g, sum(lot.volume_l for lot in kept))
    sg = sg_from_alcohol_and_extract(100 * alcohol_l / volume_l, extract_g / volume_l)
    free, total = (
        _summed([(lot.volume_l, getattr(lot, name)) for lot in kept], volume_l)
        for name in ("free_so2_mg_l", "total_so2_mg_l")
    )
    return Lot(volume_l, sg, 100 * alcohol_l / volume_l, free, total)


def _volume(mass_kg: float, alcohol_l: float, extract_g: float, guess_l: float) -> float:
    """Litres at which alcohol and extract give the density that the mass needs."""
    volume_l = guess_l
    for _ in range(12):
        sg = sg_from_alcohol_and_extract(100 * alcohol_l / volume_l, extract_g / volume_l)
        older_l, volume_l = volume_l, mass_kg / density_from_sg(sg) * 1000.0
        if abs(volume_l - older_l) < 1e-9 * volume_l:
            break
    return volume_l


def _summed(shares: Sequence[tuple[float, float | None]], volume_l: float) -> float | None:
    """mg/L in the mixture, or None as soon as one of its lots is not known."""
    if any(value is None for _, value in shares):
        return None
    return sum(litres * (value or 0.0) for litres, value in shares) / volume_l


def water(volume_l: float) -> Lot:
    """So many litres of water as a lot, without alcohol or SO2.

    Range: 0 to 100 000 L. Errors: ValueError outside.

    >>> water(1.0).sg
    1.0

    Source: definition of specific gravity.
    """
    return Lot(volume_l, 1.0, 0.0, 0.0, 0.0)


def dilute(lot: Lot, water_l: float) -> Lot:
    """The lot with so many litres of water in it: litres, specific gravity, % vol, SO2 in mg/L.

    Range: 0 to 100 000 L. Errors: ValueError outside. Watering a finished drink weakens what keeps it.
    Formula: blend with water.

    >>> dilute(Lot(4.5, 1.075), 0.5).sg
    1.0675

    Source: mass balance as in blend.
    """
    return blend([lot, water(water_l)])


@dataclass(frozen=True, slots=True)
class Sweetened:
    """What sweetening gives: the lot after, the addition in kg, sugar added in g/L, gas it could make.

    gas_volumes is the CO2, in volumes, if a live yeast ate all of it in a closed vessel.
    """

    lot: Lot
    added_kg: float
    sugar_g_per_l: float
    gas_volumes: float


def sweeten(lot: Lot, added_kg: float, sugar_pct: float = 82.8, water_pct: float = 17.2) -> Sweetened:
    """The lot with so many kg of honey, syrup or sugar stirred in; gas it could make in volumes.

    Range: 0 to 10 000 kg, sugar and water 0 to 100 % and together 100 at most; the gravity after up
    to 1.200. Errors: ValueError outside. Honey settles: stir, wait, and read again.
    Formula: masses, alcohol and SO2 add as in blend; the addition's own volume is counted.

    >>> after = sweeten(Lot(3.785, 1.000, 12.0), 0.2268)
    >>> after.lot.sg, after.lot.abv
    (1.0183, 11.5)

    Source: mass balance as in blend; gas by the stoichiometry of hexose.
    """
    within("addition", added_kg, 0, 10_000, "kg")
    within("sugar and water of the addition", within("sugar", sugar_pct, 0, 100, "%") + water_pct, 0, 100.001, "%")
    if lot.volume_l <= 0:
        raise ValueError("nothing to sweeten: the volume must be above 0 L")
    alcohol_l, sugar_g = lot.volume_l * lot.abv / 100, added_kg * sugar_pct * 10
    extract_g = lot.volume_l * extract_g_per_l(lot.sg, lot.abv) + sugar_g
    mass_kg = lot.volume_l * density_from_sg(lot.sg) / 1000 + added_kg * (sugar_pct + water_pct) / 100
    volume_l = _volume(mass_kg, alcohol_l, extract_g, lot.volume_l + added_kg * 0.65)
    sg = sg_from_alcohol_and_extract(100 * alcohol_l / volume_l, extract_g / volume_l)
    free, total = (
        None if value is None else value * lot.volume_l / volume_l for value in (lot.free_so2_mg_l, lot.total_so2_mg_l)
    )
    after = Lot(volume_l, sg, 100 * alcohol_l / volume_l, free, total)
    return Sweetened(after, added_kg, sugar_g / volume_l, sugar_g / volume_l * GAS_VOLUMES_PER_G_L)


def sweeten_to(lot: Lot, target_sg: float, sugar_pct: float = 82.8, water_pct: float = 17.2) -> Sweetened:
    """The honey, syrup or sugar, in kg, that brings a lot to a gravity, and the lot after.

    Range: target from the lot's gravity to 1.150, addition of at least 50 % sugar. Errors: ValueError.
    Formula: sweeten, solved for the addition by false position.

    >>> sweeten_to(Lot(4.5, 0.998, 13.0), 1.015).added_kg
    0.249

    Source: mass balance as in blend.
    """
    within("target gravity", target_sg, lot.sg, 1.15)
    within("sugar in the addition", sugar_pct, 50, 100, "%")
    most_kg = lot.volume_l * (target_sg - lot.sg) * 8.0
    added_kg = crossing(lambda kg: sweeten(lot, kg, sugar_pct, water_pct).lot.sg - target_sg, 0.0, most_kg, close=1e-8)
    return sweeten(lot, added_kg, sugar_pct, water_pct)


def cautions(before: Lot, after: Lot, stabilised: bool | None, gas_volumes: float = 0.0) -> tuple[str, ...]:
    """What a change does to keeping and safety, as lines to show beside the number in volumes and % vol.

    Range: lots as Lot allows; stabilised None when nobody recorded it, which counts as no.
    Errors: none. Formula: none; thresholds are those of the trade.

    >>> lot = Lot(4.5, 1.000, 9.0)
    >>> cautions(lot, lot, None, 3.0)[0][:38]
    'Not known to be stabilised: the sugar '

    Source: Bisson, Am. J. Enol. Vitic. 50 (1999); Eisenman, on stabilizing sweet wines; common practice.
    """
    lines = []
    if gas_volumes > 0.2 and not stabilised:
        state = "Not known to be stabilised" if stabilised is None else "Not stabilised"
        lines.append(
            f"{state}: the sugar added can still ferment, to about {gas_volumes:.1f} volumes of gas. Keep it under "
            "an airlock, read it again after a week or more, never seal it: glass can burst."
        )
    if after.sg > 1.0 or gas_volumes > 0.2:
        lines.append("Stir well and read again: honey settles, and what is not read is only reckoned.")
    if before.abv - after.abv >= 0.25:
        lines.append(f"Weaker by about {before.abv - after.abv:.1f} % vol; a sorbate dose rises as strength falls.")
    if after.abv and after.abv < 10.0:
        lines.append("Below 10 % vol it keeps months, not years.")
    if after.free_so2_mg_l is None:
        lines.append("SO2 of a part is not recorded, so that of the whole is not known: measure before adding.")
    elif before.free_so2_mg_l and after.free_so2_mg_l < before.free_so2_mg_l - 1:
        lines.append(f"Free SO2 thinned to about {after.free_so2_mg_l:.0f} mg/L, and more of it may bind.")
    return tuple(lines)
