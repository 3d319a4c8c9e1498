"""A batch in the facts by which two are compared: what went in, how it went, what came of it."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.tastings import last_score
from mustwatch.judgement.alcohol import Made, alcohol_now
from mustwatch.judgement.state import judge
from mustwatch.ledger.events import Ingredient, Tasted
from mustwatch.ledger.settings import Settings


@dataclass(frozen=True, slots=True)
class Fed:
    """One thing that went in after mixing: so many days after the pitching, negative before it."""

    day: float
    what: str
    category: str
    g: float | None
    l: float | None  # noqa: E741  the format's own key


@dataclass(frozen=True, slots=True)
class Profile:
    """Recipe, course and outcome. Gravities SG, volumes in litres, temperatures of the must in °C, days from pitching.

    readings: (day, SG) of those that judgements use; rest_day: since when its readings agree, None where they do not.
    """

    batch: str
    name: str
    style: str | None
    volume_l: float | None
    ingredients: tuple[Ingredient, ...]
    start_sg: float | None
    start_ph: float | None
    yeast: str | None
    yeast_class: str | None
    yeast_g: float | None
    fed: tuple[Fed, ...]
    readings: tuple[tuple[float, float], ...]
    coldest_c: float | None
    warmest_c: float | None
    stage: str
    state: str | None
    end_sg: float | None
    alcohol: Made | None
    rest_day: float | None
    bottled_day: float | None
    bottles_made: int
    bottles_left: int
    tastings: tuple[Tasted, ...]

    @property
    def honey_kg(self) -> float | None:
        """Honey mixed in at the start, kg; None where none was weighed."""
        masses = [part.kg for part in self.ingredients if part.category == "honey" and part.kg is not None]
        return sum(masses) if masses else None

    @property
    def score(self) -> float | None:
        """The last score that was given, of 10."""
        return last_score(self.tastings)


def profile_of(batch: Batch, settings: Settings, now: datetime) -> Profile:
    """The facts of a batch at `now`; what was not recorded is None or empty."""
    mixed, verdict = batch.mixed, judge(batch, settings, now)
    pitch = batch.recorded_pitches[0] if batch.recorded_pitches else None
    must = [each.celsius for each in batch.temperatures if not each.of_air]
    ph = next((measure.value for measure in batch.measures if measure.what == "ph"), None)
    return Profile(
        batch=batch.tag,
        name=batch.name,
        style=batch.style,
        volume_l=mixed.volume_l if mixed else None,
        ingredients=mixed.ingredients if mixed else (),
        start_sg=batch.start.sg if batch.start else None,
        start_ph=ph,
        yeast=pitch.yeast.label if pitch else None,
        yeast_class=pitch.yeast.yeast_class if pitch else None,
        yeast_g=pitch.g if pitch else None,
        fed=tuple(Fed(_day(batch, each.at), each.what, each.category, each.g, each.l) for each in batch.additions),
        readings=tuple((_day(batch, each.at), each.sg) for each in batch.good_readings),
        coldest_c=min(must, default=None),
        warmest_c=max(must, default=None),
        stage=batch.stage,
        state=verdict.state,
        end_sg=batch.latest.sg if batch.latest and batch.latest != batch.start else None,
        alcohol=alcohol_now(batch),
        rest_day=_day(batch, verdict.rest.since) if verdict.at_rest and verdict.rest.since else None,
        bottled_day=_day(batch, batch.bottlings[0].at) if batch.bottlings else None,
        bottles_made=batch.bottles_made,
        bottles_left=max(0, batch.bottles_left),
        tastings=batch.tastings,
    )


def _day(batch: Batch, at: datetime) -> float:
    """Days from the pitching, else from the first entry; negative before it."""
    since = batch.pitched.at if batch.pitched else batch.started or at
    return round((at - since) / timedelta(days=1), 2)
