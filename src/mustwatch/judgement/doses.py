"""Sulfite and sorbate on record, as mg in each litre. A dose without its mass is counted apart, never guessed."""

from collections.abc import Iterable
from datetime import datetime
from typing import NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.holding import recorded_volume
from mustwatch.entry.substance import is_sodium
from mustwatch.ledger.events import Added

POTASSIUM_SALT_SO2 = 0.576  # potassium metabisulfite, stoichiometry: 2 x 64.064 / 222.32
SODIUM_SALT_SO2 = 0.674  # sodium metabisulfite, stoichiometry: 2 x 64.064 / 190.11
SORBIC_SHARE = 0.746  # of potassium sorbate that is sorbic acid, stoichiometry: 112.13 / 150.22


class Dose(NamedTuple):
    """One dose: mg of SO2, or mg of potassium sorbate, in each litre; None when mass or volume is not known."""

    event: Added
    mg_per_l: float | None


def volume_at(batch: Batch, at: datetime) -> float | None:
    """Litres in the vessel at a time, as last recorded before it; None when never recorded."""
    return recorded_volume(batch.story, at)


def sulfites(batch: Batch, since: datetime | None = None) -> list[Dose]:
    """The doses of sulfite, as mg/L of SO2."""
    return [_dose(batch, event, so2_share(event)) for event in _of(batch, "sulfite", since)]


def sorbates(batch: Batch) -> list[Dose]:
    """The doses of sorbate, as mg/L of the potassium salt."""
    return [_dose(batch, event, salt_of(event)) for event in _of(batch, "sorbate", None)]


def salt_of(event: Added) -> float:
    """What a gram of a sorbate counts for as the potassium salt: the pure acid is more."""
    return 1 / SORBIC_SHARE if "sorbic" in event.what.lower() else 1.0


def so2_share(event: Added) -> float:
    """The share of a sulfite that is SO2: potassium salt unless its name tells sodium, or the gas itself."""
    if "dioxide" in event.what.lower():
        return 1.0
    return SODIUM_SALT_SO2 if is_sodium(event.what) else POTASSIUM_SALT_SO2


def total(doses: Iterable[Dose]) -> float:
    """mg/L of all doses whose amount is known."""
    return sum(dose.mg_per_l or 0.0 for dose in doses)


def _of(batch: Batch, category: str, since: datetime | None) -> list[Added]:
    given = [*_mixed_in(batch, category), *batch.additions]
    return [event for event in given if event.category == category and (since is None or event.at >= since)]


def _mixed_in(batch: Batch, category: str) -> list[Added]:
    """What went in with the mixing: it counts toward a limit like any other dose."""
    mixed = batch.mixed
    parts = [part for part in mixed.ingredients if part.category == category] if mixed else []
    return [
        Added(
            id=mixed.id, at=mixed.at, batch=mixed.batch, what=part.what, category=part.category,
            g=None if part.kg is None else part.kg * 1000, l=part.l,
        )
        for part in parts
        if mixed is not None
    ]  # fmt: skip


def _dose(batch: Batch, event: Added, share: float) -> Dose:
    volume_l = volume_at(batch, event.at)
    return Dose(event, event.g * 1000 * share / volume_l if event.g and volume_l else None)
