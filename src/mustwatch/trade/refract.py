"""What a refractometer can and cannot tell once there is alcohol in the sample.

Alcohol bends light too, so after pitching a refractometer no longer reads sugar. The way back
rests on adding two published effects and on a mass balance; nobody has measured it on mead.
"""

from dataclasses import dataclass

from .gravity import brix_from_sg
from .limits import within
from .refractive import brix_from_refractive_index, ethanol_refraction, refraction_from_brix
from .root import crossing
from .strength import EXTRACT_PER_ALCOHOL
from .tabarie import sg_from_alcohol_and_extract

MODEL_DOUBT_BRIX = 0.5
"""How far the apparent reading may be off, Brix: 0.2 by eye, 0.1 in the ethanol table, the rest
for adding the two effects and for acids and other things honey brings. A judgement."""

NOT_FOR = (
    "Do not use it to call a ferment stalled, stable or finished, nor to decide on sealing or bottling: "
    "take a hydrometer reading for those. It counts the start as known and nothing added since."
)


@dataclass(frozen=True, slots=True)
class Refracted:
    """A fermenting sample seen by refractometer: gravities and % vol, each with its fair bounds."""

    sg: float
    sg_low: float
    sg_high: float
    abv: float
    abv_low: float
    abv_high: float
    caution: str


def _apparent(alcohol_pct: float, extract_pct: float) -> float:
    extra = ethanol_refraction(alcohol_pct) if alcohol_pct > 0 else 0.0
    return brix_from_refractive_index(refraction_from_brix(extract_pct) + extra)


def _mass_pct(abv: float, sg: float) -> float:
    return abv * 0.78924 / 0.99820 / sg


def _state(start_pct: float, shown_brix: float) -> tuple[float, float]:
    """(abv, SG) whose mass balance from the start shows this Brix."""
    yield_pct = EXTRACT_PER_ALCOHOL - 0.010665 * start_pct
    alcohol_pct = crossing(
        lambda made_pct: _apparent(made_pct, start_pct - made_pct * yield_pct) - shown_brix,
        0.0,
        min(start_pct / yield_pct, 18.0),
        close=1e-5,
    )
    extract_pct = start_pct - alcohol_pct * yield_pct
    sg = 1.0 + (extract_pct * 4.0 - alcohol_pct * 1.6) / 1000.0
    for _ in range(6):
        abv = alcohol_pct * sg * 0.99820 / 0.78924
        sg = sg_from_alcohol_and_extract(abv, extract_pct * sg * 9.982)
    return abv, sg


def refracted(start_sg: float, shown_brix: float) -> Refracted:
    """Gravity and alcohol (% vol) behind a refractometer reading in Brix, with fair bounds.

    Range: start 1.030 to 1.170 by hydrometer or by refractometer before pitching; reading between
    that of the start and that of a wholly fermented sample. Errors: ValueError outside, or where
    the reading fits no ferment of that start; the bounds are a judgement, not a measurement.
    Formula: the alcohol at which Balling's balance and the added refractions meet the reading.

    >>> seen = refracted(1.100, 12.0)
    >>> seen.sg_low < seen.sg < seen.sg_high
    True

    Source: CRC Handbook refractive indices; Balling's mass balance; no published check for mead.
    """
    within("start gravity", start_sg, 1.03, 1.17)
    start_pct = brix_from_sg(start_sg)
    driest_brix = _driest(start_pct)
    low_brix, high_brix = driest_brix - MODEL_DOUBT_BRIX, start_pct + MODEL_DOUBT_BRIX
    if not low_brix <= shown_brix <= high_brix:
        raise ValueError(
            f"a start of {start_sg:.3f} can show {driest_brix:.1f} to {start_pct:.1f} Brix, got {shown_brix:g}; "
            "check the reading and whether sugar was added, or use a hydrometer"
        )
    clamped = min(max(shown_brix, driest_brix), start_pct)
    abv, sg = _state(start_pct, clamped)
    abv_high, sg_low = _state(start_pct, max(clamped - MODEL_DOUBT_BRIX, driest_brix))
    abv_low, sg_high = _state(start_pct, min(clamped + MODEL_DOUBT_BRIX, start_pct))
    return Refracted(sg, sg_low, sg_high, abv, abv_low, abv_high, NOT_FOR)


def _driest(start_pct: float) -> float:
    """The lowest reading this start can come to: all sugar gone, or 18 % by mass of alcohol."""
    yield_pct = EXTRACT_PER_ALCOHOL - 0.010665 * start_pct
    alcohol_pct = min(start_pct / yield_pct, 18.0)
    return _apparent(alcohol_pct, max(start_pct - alcohol_pct * yield_pct, 0.0))


def strength_from_both(shown_brix: float, sg: float) -> tuple[float, float]:
    """Alcohol (% vol) and extract (g/L) from a refractometer and a hydrometer on one sample.

    Range: -0.5 to 40 Brix and 0.970 to 1.170, the pair fitting 0 to 22 % vol. For a batch whose
    start was never read. Errors: ValueError outside; about 1.5 % vol, since half a Brix or 0.002 in
    gravity moves it by 0.5 to 0.8.
    Formula: the alcohol and extract that refract as shown and weigh as shown (Tabarie).

    >>> abv, extract_g_per_l = strength_from_both(12.0, 1.014)
    >>> 11 < abv < 14
    True

    Source: CRC Handbook refractive indices; OIV-MA-AS2-03B; OIML R 22. Rogerson and Symington, Am. J.
    Enol. Vitic. 57 (2006) 486, fitted the same pair on 35 ports.
    """
    within("refractometer reading", shown_brix, -0.5, 40, "Brix")
    within("specific gravity", sg, 0.97, 1.17)
    if _gap(0.0, shown_brix, sg) < -0.004 or _gap(22.0, shown_brix, sg) > 0.004:
        raise ValueError(f"{shown_brix:g} Brix with gravity {sg:.3f} fits no drink of 0 to 22 % vol: read both again")
    abv = crossing(lambda abv: _gap(abv, shown_brix, sg), 0.0, 22.0, close=1e-7)
    return abv, max(0.0, _extract_pct(abv, shown_brix, sg)) * sg * 9.982


def _extract_pct(abv: float, shown_brix: float, sg: float) -> float:
    """Sugar, % by mass, left to explain the reading once the alcohol has had its share."""
    alcohol_pct = _mass_pct(abv, sg)
    index = refraction_from_brix(shown_brix) - (ethanol_refraction(alcohol_pct) if alcohol_pct else 0.0)
    return brix_from_refractive_index(max(index, 1.3315))


def _gap(abv: float, shown_brix: float, sg: float) -> float:
    """How much heavier the mixture would be than it is."""
    return sg_from_alcohol_and_extract(abv, _extract_pct(abv, shown_brix, sg) * sg * 9.982) - sg
