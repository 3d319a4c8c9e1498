"""A made-up cellar of healthy batches: what a careful keeper writes down in a year. Nothing in it deserves a fuss.

The gravity falls by a plain curve of its own, read with an error of one point to the nearest point. The keeper
cleans, feeds, looks every few days, racks when it is quiet, waits for rest, stabilises what stays sweet, bottles
late. Small human things are in: gaps, a forgotten temperature, a whiff of sulphur, rafts, a warm day.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import count
from math import exp
from typing import Any

from mustwatch.cellar.fold import fold
from mustwatch.cellar.rest import fed_at, rest_of
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Aerated, Cleaned, Event, Instrument, Noted, Read, Seen, Swirled
from mustwatch.ledger.settings import Settings

YEAR_BEGINS = datetime(2025, 3, 1, tzinfo=UTC)
YEAR_DAYS = 365
STYLES = ("dry",) * 5 + ("sweet",) * 3 + ("fruit",) * 2 + ("sparkling",)
YEASTS = {
    "dry": ("white-wine", 14.0),
    "sweet": ("ale", 11.0),
    "fruit": ("white-wine", 14.0),
    "sparkling": ("sparkling", 17.0),
}
GRAMS_PER_POINT_LITRE = 1 / (0.80 * 0.385)


class Keeper:
    """The diary of one batch. Days count from its mixing; the evening round is at 18:00."""

    def __init__(self, seed: int, is_terse: bool = False) -> None:
        self.is_terse = is_terse
        self.chance = random.Random(seed)
        self.tag = f"batch-{seed + 1}"
        self.begins = YEAR_BEGINS + timedelta(days=self.chance.uniform(0, YEAR_DAYS - 20) // 1)
        self.style = self.chance.choice(STYLES)
        self.yeast, self.tolerance = YEASTS[self.style]
        self.start = self.chance.uniform(75, 95) if self.style != "sweet" else self.chance.uniform(95, 105)
        self.end = -3.0 if self.style != "sweet" else max(8.0, self.start - self.tolerance * 7.45)
        self.pace = self.chance.uniform(0.12, 0.22)
        self.sweetened = 0.0
        self.events: list[Event] = []
        self.number = count()

    def tell(self, day: float, kind: str, hour: float = 18.0, **keys: Any) -> None:
        """One event, a second after the one before it in the diary."""
        place = next(self.number)
        at = self.begins + timedelta(days=int(day), hours=hour, seconds=place % 60)
        self.events.append(stamped(draft(kind, at, self.tag, **keys), f"{self.tag}-{place}", place + 1))

    def gravity(self, day: float) -> float:
        """The true points."""
        working = max(0.0, day - 1.0)
        return self.end + (self.start - self.end) * exp(-self.pace * working) + self.sweetened

    def read(self, day: float, **more: Any) -> None:
        """A reading, with the must's temperature; the sample's is forgotten now and then."""
        seen = round(self.gravity(day) + self.chance.gauss(0, 1.0))
        warmth = round(self.chance.gauss(19.0, 0.8), 1)
        sample = {} if self.chance.random() < 0.1 else {"sample_c": round(self.chance.gauss(20, 1.0), 1)}
        self.tell(day, "read", gravity={"value": 1 + seen / 1000, "scale": "sg", **sample}, must_c=warmth, **more)

    def look(self, day: float, **seen: Any) -> None:
        """A look at lock and surface."""
        still = self.gravity(day) - self.end - self.sweetened < 4
        self.tell(day, "seen", airlock="still" if still else "bubbling", **seen)

    def live(self) -> list[Event]:
        """The whole diary."""
        self.begin()
        self.first_weeks()
        racked = self.rack()
        rest = self.wait_for_rest(racked)
        if self.style == "sweet":
            rest = self.stabilise(rest)
        self.bottle(rest)
        return sorted(self.events, key=lambda event: event.at)

    def begin(self) -> None:
        """Cleaned, mixed, read, aired, pitched, closed; fruit in a bucket, the rest in a jug with room for foam."""
        fruit = self.style == "fruit"
        self.volume = 8.0 if fruit else 4.4
        vessel = {"kind": "bucket", "capacity_l": 12.0} if fruit else {"kind": "jug", "capacity_l": 5.0}
        honey = self.start * self.volume * GRAMS_PER_POINT_LITRE / 1000
        parts = [{"what": "meadow honey", "category": "honey", "kg": round(honey, 2)}]
        self.tell(0, "cleaned", 9.0)
        self.tell(
            0, "mixed", 10.0, name=f"{self.style} {self.tag}", volume_l=self.volume, vessel=vessel, ingredients=parts,
            target={"sg": round(1 + self.start / 1000, 3), "finish": "dry" if self.style == "fruit" else self.style},
        )  # fmt: skip
        if fruit:
            self.tell(0, "added", 10.5, what="raspberries", category="fruit", g=900)
        self.tell(
            0, "read", 11.0, ph=3.8, must_c=20.0, gravity={"value": round(1 + self.start / 1000, 3), "sample_c": 20}
        )
        self.tell(0, "aerated", 11.2)
        self.tell(
            0,
            "pitched",
            11.5,
            yeast={"label": "a yeast", "class": self.yeast, "tolerance_abv": self.tolerance},
            g=3,
            must_c=20,
        )
        self.tell(0, "closed", 12.0, closure="airlock", liquid="sanitiser")

    def first_weeks(self) -> None:
        """Fed on three evenings, looked at daily, then every few days; fruit pushed under and taken out."""
        for day in (1, 2, 3):
            self.tell(day, "swirled", 10.5)
            self.tell(
                day,
                "added",
                11.4,
                what="nutrient",
                category="nutrient",
                g=round(self.volume * 0.4, 1),
                nitrogen_mg_per_g=150,
            )
        self.tell(1, "aerated", 10.6)
        self.look(1, surface="foam")
        self.look(3, surface="ring", smell=["sulphur" if self.chance.random() < 0.3 else "bread"])
        if self.style == "fruit":
            for day in range(1, 10):
                self.tell(day, "cap_pushed", 8.0)
                self.tell(day, "cap_pushed", 19.0)
            self.tell(9, "removed", 19.5, what="raspberries")
        day = 2.0
        while day < 28:
            self.read(day)
            self.look(
                day, surface=self.chance.choice(["foam", "rafts", "clean"]) if day < 10 else "clean", clarity="murky"
            )
            day += self.chance.choice([1, 2, 2, 3]) if day < 12 else self.chance.choice([3, 4, 5])

    def rack(self) -> float:
        """Off the lees into a full jug, once it is quiet."""
        day = 30.0 + self.chance.randrange(0, 10)
        while self.gravity(day) - self.end > 3:
            day += 1
        self.read(day)
        self.volume -= 0.4 if self.style != "fruit" else 1.0
        size = self.volume + 0.12
        self.tell(day, "cleaned", 17.0)
        self.tell(
            day,
            "racked",
            18.2,
            vessel={"kind": "jug", "capacity_l": round(size, 2)},
            volume_l=round(self.volume, 2),
            headspace_l=0.12,
        )
        self.tell(day, "closed", 18.3, closure="airlock", liquid="sanitiser")
        return day

    def wait_for_rest(self, day: float) -> float:
        """Read every week or two until readings over three weeks are in; the lock is looked at in between."""
        until = day + 45
        while day < until:
            day += self.chance.choice([6, 7, 8])
            self.read(day, **({"ph": round(self.chance.gauss(3.4, 0.03), 2)} if self.chance.random() < 0.5 else {}))
            self.look(day, clarity="hazy" if day < 60 else "clear")
        return day

    def stabilise(self, day: float) -> float:
        """Sulfite to the pH, sorbate the day after, and three weeks of watching."""
        self.read(day + 1, ph=3.4, free_so2_mg_l=0)
        self.tell(
            day + 1,
            "added",
            18.5,
            what="potassium metabisulfite",
            category="sulfite",
            g=round(48 * self.volume / 576, 2),
        )
        self.tell(day + 2, "added", 18.5, what="potassium sorbate", category="sorbate", g=round(0.25 * self.volume, 2))
        for later in (3, 10, 17, 24):
            self.read(day + later, **({"free_so2_mg_l": 36} if later == 10 else {}))
            self.look(day + later, clarity="clear")
        return day + 24

    def bottle(self, day: float) -> None:
        """Aged with a look every fortnight and a reading each month, then bottled and drunk late."""
        ages = self.chance.choice([20, 60, 90])
        end = day + ages
        while day + 13 < end:
            day += 13
            self.look(day, clarity="clear", surface="clean")
            if self.chance.random() < 0.5:
                self.read(day)
        end = self._proven(end)
        self.tell(end, "cleaned", 17.0)
        bottles = int(self.volume / 0.75)
        self.tell(end, "bottled", 18.5, **self._lots(bottles))
        self.tell(end, "moved", 19.0, place="cellar", light="dark", air_c=14)
        self.tell(end, "noted", 19.1, note="labelled")
        self.tell(end + 100, "took", 19.0, count=1, why="tested")
        self.tell(end + 100, "tasted", 19.2, nose="pear, honey", palate="clean", score_of_10=7)

    def _proven(self, day: float) -> float:
        """The day of bottling: readings are taken each week until two weeks of them agree, noise or not."""
        self.read(day)
        while self._days_of_rest() < 14 and day < 500:
            day += 7
            self.read(day)
        return day

    def _days_of_rest(self) -> float:
        story = sorted(terse(self.events) if self.is_terse else self.events, key=lambda event: event.at)
        batch = fold(story, Settings(), story[-1].at).batches[self.tag]
        return rest_of(batch.good_readings, fed_at(batch)).days

    def _lots(self, bottles: int) -> dict[str, Any]:
        if self.style != "sparkling":
            return {
                "style": "still",
                "lots": [{"size_ml": 750, "count": bottles, "bottle": "still-wine", "closure": "cork"}],
            }
        witness = {"size_ml": 500, "count": 1, "bottle": "pet", "closure": "tight-cap"}
        lot = {"size_ml": 750, "count": bottles - 1, "bottle": "sparkling", "closure": "crown-cap", "rating_bar": 6}
        return {
            "style": "sparkling",
            "lots": [lot, witness],
            "priming": {"what": "sucrose", "g": round(self.volume * 6.0, 1)},
        }


def events_of(batches: int, is_terse: bool = False) -> list[Event]:
    """The events of so many healthy batches, in the order in which they happened; the glass was checked first.

    is_terse: kept by one who writes down little, and judges rest by what is written.
    """
    glass = draft("instrument", YEAR_BEGINS, None, name="glass", what="hydrometer", calibration_c=20)
    told = [stamped(glass, "glass", 1)]
    for seed in range(batches):
        told += Keeper(seed, is_terse).live()
    return sorted(terse(told) if is_terse else told, key=lambda event: event.at)


def terse(events: list[Event]) -> list[Event]:
    """The same cellar kept by one who writes down little: no warmth, no looks, no cleaning, only what was done."""
    kept = []
    for event in events:
        if isinstance(event, Read) and event.gravity is not None:
            gravity = event.gravity.model_copy(update={"sample_c": None})
            kept.append(event.model_copy(update={"gravity": gravity, "must_c": None, "ph": None}))
        elif not isinstance(event, Read | Seen | Cleaned | Instrument | Swirled | Aerated | Noted):
            kept.append(event)
    return kept


def looks() -> Iterator[datetime]:
    """Every evening of the year, after the day's work is written down."""
    for day in range(YEAR_DAYS):
        yield YEAR_BEGINS + timedelta(days=day, hours=20)
