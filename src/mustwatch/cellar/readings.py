"""Gravity readings: from what was observed to what a good glass would have read, with its error and its doubts."""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from functools import lru_cache

from mustwatch.cellar.batch import Reading
from mustwatch.entry.bounds import HIGHEST_SG, LOWEST_SG
from mustwatch.ledger.events import Instrument, Read
from mustwatch.ledger.settings import Settings
from mustwatch.trade.gravity import sg_from_brix, sg_from_plato
from mustwatch.trade.temperature import corrected_sg

CAREFUL_ERROR = 0.001  # a careful reader with a corrected glass, trade judgement; one standard deviation
WITHOUT_TEMPERATURE = 0.0015  # the sample's warmth not known: the trade allows 3 points, taken as two deviations
FASTEST_FALL = 0.040  # SG a day; real logs of honey reach 0.027
DEFAULT_CALIBRATION_C = 20.0
TOO_FAST = "fell faster than yeast can; no later reading bears it out"
NOT_CORRECTED = "not corrected"


def reading_from(
    event: Read, instruments: Mapping[str, Instrument], settings: Settings, pitched_at: datetime | None
) -> Reading | None:
    """The gravity reading of an event, corrected; None when it read no gravity.

    The sample's temperature is used where given, else the must's. A value that no must can have is kept
    as observed and carries a doubt.
    """
    seen = event.gravity
    if seen is None:
        return None
    instrument = instruments.get(seen.instrument or "")
    observed, doubt = _as_sg(seen.value, seen.scale)
    sg = observed * instrument.factor + instrument.offset if instrument else observed
    sample_c = seen.sample_c if seen.sample_c is not None else event.must_c
    remarks: list[str] = []
    error = seen.error or CAREFUL_ERROR
    if seen.error is not None:
        sample_c = None  # it has a calibration of its own, and no glass to be corrected for warmth
    elif _is_refractometer(seen.instrument, instrument):
        if pitched_at is not None and event.at > pitched_at:
            doubt = doubt or "a refractometer after pitching reads alcohol as sugar"
    elif seen.scale == "sg" and doubt is None:
        sg, error = _corrected(sg, sample_c, seen.sample_c is None, instrument, settings, remarks)
    if instrument is not None and instrument.division:
        error = max(error, instrument.division / 2)
    if doubt is None and not LOWEST_SG <= sg <= HIGHEST_SG:
        doubt = f"a must cannot be at {sg:.3f}"
    return Reading(
        id=event.id, at=event.at, value=seen.value, scale=seen.scale, sg=sg, error=error,
        sample_c=seen.sample_c, must_c=event.must_c, instrument=seen.instrument, doubt=doubt, remarks=tuple(remarks),
        floating=seen.error is not None,
    )  # fmt: skip


def _as_sg(value: float, scale: str) -> tuple[float, str | None]:
    if scale == "sg":
        return value, None
    try:
        return (sg_from_brix if scale == "brix" else sg_from_plato)(value), None
    except ValueError as error:
        return value, str(error)


def _is_refractometer(name: str | None, instrument: Instrument | None) -> bool:
    return (instrument is not None and instrument.what == "refractometer") or "refract" in (name or "").lower()


def _corrected(
    sg: float,
    sample_c: float | None,
    assumed: bool,
    instrument: Instrument | None,
    settings: Settings,
    remarks: list[str],
) -> tuple[float, float]:
    calibration = (instrument.calibration_c if instrument else None) or settings.hydrometer_c
    if sample_c is None:
        remarks.append("sample temperature not recorded: not corrected, could be 3 points off")
        return sg, WITHOUT_TEMPERATURE
    if assumed:
        remarks.append("corrected with the must's temperature, the sample's was not recorded")
    try:
        return _remembered(sg, sample_c, calibration or DEFAULT_CALIBRATION_C), CAREFUL_ERROR
    except ValueError as error:
        remarks.append(f"{NOT_CORRECTED}: {error}")
        return sg, WITHOUT_TEMPERATURE


@lru_cache(maxsize=65536)
def _remembered(sg: float, sample_c: float, calibration_c: float) -> float:
    # Glasses are read to a mark: the same few thousand pairs come again and again.
    return corrected_sg(sg, sample_c, calibration_c)


def doubted(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """The readings with impossibly fast falls put in doubt until a later reading agrees with them."""
    result: list[Reading] = []
    last: Reading | None = None
    for place, reading in enumerate(readings):
        too_fast = reading.doubt is None and last is not None and _falls_too_fast(last, reading)
        if too_fast and not _borne_out(reading, readings[place + 1 :]):
            reading = reading._replace(doubt=TOO_FAST)
        if reading.doubt is None:
            last = reading
        result.append(reading)
    return tuple(result)


def _falls_too_fast(before: Reading, after: Reading) -> bool:
    days = max((after.at - before.at) / timedelta(days=1), 1 / 8)
    return before.sg - after.sg > max(FASTEST_FALL * days, 0.008)


def _borne_out(reading: Reading, later: Sequence[Reading]) -> bool:
    following = next((other for other in later if other.doubt is None), None)
    return following is not None and following.sg <= reading.sg + 0.010
