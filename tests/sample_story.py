"""The invented cellar that ships as `sample_cellar`: its story, told day by day, and the writer of its files.

Run `python tests/sample_story.py` from the top of the project to write the files again. All of it is made up:
the honeys, the mishaps, the notes and the figures, which only follow what a mead of that kind would do.
"""

from __future__ import annotations

import hashlib
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from mustwatch.ledger.clock import next_id
from mustwatch.ledger.codec import encode
from mustwatch.ledger.crc import sealed
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event

ZONE = timezone(timedelta(hours=2))
PINNED = datetime(2026, 5, 14, 18, 30, tzinfo=ZONE)
DEVICE = "5e1fa0cc0ffee001"
TOP = Path(__file__).parent.parent

SETTINGS = f"""\
# An invented cellar to look around in. It always opens as it stood on the pinned date, and is never written to.

[cellar]
name = "Under the stairs"
pinned = {PINNED.isoformat()}
hydrometer_c = 20

[places."under the stairs"]
m3 = 14
[places.kitchen]
m3 = 40
"""


class Story:
    """Collects events; days count back from the pinned date, so that day 0 is the day of the look."""

    def __init__(self) -> None:
        self.events: list[Event] = []

    def tell(self, tag: str | None, days_ago: float, clock: str, kind: str, **keys: Any) -> None:
        """One event of a batch, so many days before the look, at a time of day."""
        hour, minute = (int(part) for part in clock.split(":"))
        day = PINNED - timedelta(days=days_ago)
        at = day.replace(hour=hour, minute=minute)
        self.events.append(draft(kind, at, tag, **keys))

    def read(self, tag: str, days_ago: float, sg: float, sample_c: float, must_c: float | None = None, **more: Any):
        """A gravity reading of the evening round."""
        keys = {"must_c": must_c if must_c is not None else sample_c, **more}
        self.tell(tag, days_ago, "18:10", "read", gravity={"value": sg, "sample_c": sample_c}, **keys)

    def mix(self, tag: str, days_ago: float, name: str, volume_l: float, vessel: tuple[str, float], parts, **more: Any):
        """A mixing with its vessel and ingredients, (amount, unit, what, category) each."""
        ingredients = [{"what": what, "category": kind, unit: amount} for amount, unit, what, kind in parts]
        self.tell(
            tag, days_ago, "10:30", "mixed", name=name, volume_l=volume_l,
            vessel={"kind": vessel[0], "capacity_l": vessel[1]}, ingredients=ingredients, **more,
        )  # fmt: skip

    def pitch(
        self, tag: str, days_ago: float, label: str, yeast_class: str, tolerance: float, grams: float, **more: Any
    ):
        """The pitching, an hour after the mixing."""
        yeast = {"label": label, "class": yeast_class, "tolerance_abv": tolerance, **more}
        self.tell(tag, days_ago, "11:40", "pitched", yeast=yeast, g=grams, must_c=21)


def story() -> list[Event]:
    """All events of the sample cellar, in the order in which they happened."""
    cellar = Story()
    for chapter in (
        _heather, _cider, _lime, _bramble, _clover, _chestnut, _buckwheat, _acacia, _meadow, _raspberry, _bean,
    ):  # fmt: skip
        chapter(cellar)
    cellar.tell(
        None, 240, "09:00", "instrument", name="long glass", what="hydrometer", calibration_c=20, division=0.002,
        offset=0.0, note="1.000 in water and 1.092 in 22 % sugar",
    )  # fmt: skip
    return sorted(cellar.events, key=lambda event: event.at)


def _heather(c: Story) -> None:
    """Stalled: strong, fed late, and stood in the cold."""
    tag = "heather-2"
    c.mix(tag, 26, "Heather, the strong one", 4.5, ("jug", 5.0),
          [(1.62, "kg", "heather honey", "honey"), (3.4, "l", "spring water", "water")],
          target={"sg": 1.118, "final_sg": 1.010, "finish": "sweet"})  # fmt: skip
    c.tell(tag, 26, "10:50", "aerated", how="shaken")
    c.tell(tag, 26, "11:20", "read", gravity={"value": 1.117, "sample_c": 22}, ph=4.2)
    c.pitch(tag, 26, "dry white-wine yeast", "white-wine", 14, 3, low_c=15, high_c=24)
    c.tell(tag, 26, "12:00", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days, sg, warm in ((24, 1.111, 21), (22, 1.099, 20), (20, 1.088, 20), (18, 1.079, 19), (16, 1.071, 18),
                           (14, 1.065, 17), (12, 1.061, 15), (10, 1.059, 14)):  # fmt: skip
        c.read(tag, days, sg, 20, warm)
    c.tell(tag, 25, "18:20", "added", what="diammonium phosphate", category="nutrient", g=1.2, nitrogen_mg_per_g=212)
    c.tell(tag, 23, "18:20", "added", what="diammonium phosphate", category="nutrient", g=1.2, nitrogen_mg_per_g=212)
    c.tell(tag, 24, "18:15", "swirled")
    c.tell(tag, 22, "18:15", "seen", airlock="bubbling", surface="ring")
    c.tell(tag, 13, "19:00", "moved", place="under the stairs", light="dark", air_c=13)
    for days, sg in ((7, 1.058), (6, 1.058), (4, 1.058), (2, 1.058), (1, 1.057)):
        c.read(tag, days, sg, 20, 14)
    c.tell(tag, 1, "18:20", "seen", airlock="still", clarity="hazy", note="Quiet for a week now.")


def _cider(c: Story) -> None:
    """Too long on its gross lees: done long ago, never racked."""
    tag = "orchard-cider"
    c.mix(tag, 79, "Windfall cider", 9.0, ("carboy", 10.0), [(9.0, "l", "pressed apple juice", "juice")],
          target={"sg": 1.050, "finish": "dry"})  # fmt: skip
    c.tell(tag, 79, "11:00", "read", gravity={"value": 1.051, "sample_c": 18}, ph=3.6)
    c.pitch(tag, 79, "dry ale yeast", "ale", 11, 5, low_c=15, high_c=24)
    c.tell(tag, 79, "12:00", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days, sg in ((77, 1.044), (74, 1.031), (71, 1.020), (67, 1.010), (62, 1.003), (55, 0.999), (47, 0.998),
                     (33, 0.998), (19, 0.998), (5, 0.998)):  # fmt: skip
        c.read(tag, days, sg, 19, 18)
    c.tell(tag, 76, "18:15", "seen", airlock="bubbling", surface="foam")
    c.tell(tag, 5, "18:20", "seen", airlock="still", clarity="clear", note="Bright. Thick lees.")


def _lime(c: Story) -> None:
    """Sealed while alive: somebody put the transport cap on and left it."""
    tag = "lime-blossom"
    c.mix(tag, 12, "Lime blossom", 4.4, ("jug", 5.0),
          [(1.28, "kg", "lime blossom honey", "honey"), (3.5, "l", "tap water", "water")],
          target={"sg": 1.095, "finish": "dry"})  # fmt: skip
    c.tell(tag, 12, "11:10", "read", gravity={"value": 1.094, "sample_c": 23}, ph=4.0)
    c.pitch(tag, 12, "dry white-wine yeast", "white-wine", 14, 3, low_c=15, high_c=24)
    c.tell(tag, 12, "12:00", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days, grams in ((11, 1.0), (10, 1.0), (9, 1.0)):
        c.tell(
            tag,
            days,
            "18:20",
            "added",
            what="diammonium phosphate",
            category="nutrient",
            g=grams,
            nitrogen_mg_per_g=212,
        )
    for days, sg in ((10, 1.085), (9, 1.077), (8, 1.069), (6, 1.056), (4, 1.045), (2, 1.036)):
        c.read(tag, days, sg, 22, 21)
    c.tell(tag, 8, "18:15", "seen", airlock="bubbling", surface="ring")
    c.tell(
        tag, 1, "20:40", "closed", closure="tight-cap", note="Carried it up from the kitchen, cap on for the stairs."
    )


def _bramble(c: Story) -> None:
    """Bottled sweet without a stabiliser, in swing-top glass."""
    tag = "bramble"
    c.mix(tag, 128, "Bramble melomel", 4.6, ("bucket", 10.0),
          [(1.35, "kg", "wildflower honey", "honey"), (1.0, "kg", "blackberries", "fruit"),
           (3.0, "l", "water", "water")],
          target={"sg": 1.098, "finish": "sweet"})  # fmt: skip
    c.tell(tag, 128, "11:10", "read", gravity={"value": 1.097, "sample_c": 21}, ph=3.6)
    c.pitch(tag, 128, "dry ale yeast", "ale", 11, 5, low_c=15, high_c=24)
    c.tell(tag, 128, "12:00", "closed", closure="cloth")
    for days, sg in ((126, 1.086), (124, 1.071), (121, 1.055), (117, 1.040), (112, 1.030), (105, 1.023)):
        c.read(tag, days, sg, 21, 20)
    for days in (127, 126, 125, 124, 123, 122, 121):
        c.tell(tag, days, "08:00", "cap_pushed")
    c.tell(tag, 119, "18:20", "removed", what="blackberries")
    c.tell(tag, 117, "18:40", "racked", vessel={"kind": "jug", "capacity_l": 4.5}, volume_l=4.3, lees_l=0.4)
    c.tell(tag, 117, "18:45", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days, sg in ((91, 1.019), (70, 1.018), (49, 1.018)):
        c.read(tag, days, sg, 19, 18)
    c.tell(tag, 40, "15:00", "bottled", style="still",
           lots=[{"size_ml": 500, "count": 8, "bottle": "swing-top", "closure": "swing-top"}],
           note="Tasted sweet and lovely, so into bottles.")  # fmt: skip
    c.tell(tag, 12, "20:00", "took", count=1, why="drunk", note="A little prickle on the tongue.")


def _clover(c: Story) -> None:
    """Quiet in lag: pitched yesterday noon, nothing to see yet, and that is normal."""
    tag = "clover-3"
    c.mix(tag, 1, "Clover, third of its kind", 4.4, ("jug", 5.0),
          [(1.15, "kg", "clover honey", "honey"), (3.6, "l", "tap water", "water")],
          target={"sg": 1.086, "finish": "dry"})  # fmt: skip
    c.tell(tag, 1, "10:50", "aerated", how="shaken")
    c.tell(tag, 1, "11:20", "read", gravity={"value": 1.085, "sample_c": 22}, ph=4.1)
    c.pitch(tag, 1, "dry ale yeast", "ale", 12, 4, low_c=15, high_c=24)
    c.tell(tag, 1, "11:50", "closed", closure="airlock", liquid="no-rinse acid solution")
    c.tell(tag, 0, "07:40", "seen", airlock="still", surface="clean")


def _chestnut(c: Story) -> None:
    """Fed step by step towards strength, as planned."""
    tag = "chestnut-sack"
    c.mix(tag, 33, "Chestnut sack", 4.2, ("carboy", 6.0),
          [(1.15, "kg", "chestnut honey", "honey"), (3.4, "l", "spring water", "water")],
          target={"sg": 1.090, "final_sg": 1.020, "finish": "sweet"})  # fmt: skip
    c.tell(tag, 33, "11:10", "read", gravity={"value": 1.089, "sample_c": 22}, ph=4.3)
    c.pitch(tag, 33, "dry high-tolerance yeast", "high-tolerance", 18, 5, low_c=16, high_c=27)
    c.tell(tag, 33, "12:00", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days in (32, 31, 30):
        c.tell(
            tag, days, "18:20", "added", what="diammonium phosphate", category="nutrient", g=1.1, nitrogen_mg_per_g=212
        )
    for days, sg in ((31, 1.076), (29, 1.058), (27, 1.042), (25, 1.029)):
        c.read(tag, days, sg, 22, 22)
    c.tell(tag, 25, "18:30", "added", what="chestnut honey", category="honey", g=400)
    for days, sg in ((24, 1.052), (22, 1.041), (19, 1.027)):
        c.read(tag, days, sg, 22, 22)
    c.tell(tag, 19, "18:30", "added", what="chestnut honey", category="honey", g=350)
    for days, sg in ((18, 1.046), (15, 1.036), (11, 1.026), (7, 1.020), (4, 1.0165), (1, 1.0135)):
        c.read(tag, days, sg, 22, 22)
    c.tell(tag, 1, "18:20", "seen", airlock="bubbling")


def _buckwheat(c: Story) -> None:
    """Ageing with far too much air above it."""
    tag = "buckwheat"
    c.mix(tag, 231, "Buckwheat, dark", 9.0, ("bucket", 15.0),
          [(2.55, "kg", "buckwheat honey", "honey"), (7.2, "l", "tap water", "water")],
          target={"sg": 1.092, "finish": "dry"})  # fmt: skip
    c.tell(tag, 231, "11:10", "read", gravity={"value": 1.091, "sample_c": 21}, ph=4.0)
    c.pitch(tag, 231, "dry sparkling-wine yeast", "sparkling", 17, 6, low_c=10, high_c=27)
    c.tell(tag, 231, "12:00", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days, sg in ((228, 1.071), (224, 1.043), (219, 1.017), (212, 1.002), (203, 0.996)):
        c.read(tag, days, sg, 20, 20)
    c.tell(tag, 203, "18:40", "racked", vessel={"kind": "carboy", "capacity_l": 9.0}, volume_l=8.6, lees_l=0.4)
    c.tell(tag, 203, "18:45", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days, sg in ((180, 0.995), (150, 0.995), (95, 0.995), (33, 0.995)):
        c.read(tag, days, sg, 18, 16)
    c.tell(tag, 33, "18:40", "racked", vessel={"kind": "carboy", "capacity_l": 10.0}, volume_l=7.4, lees_l=0.2,
           headspace_l=2.6)  # fmt: skip
    c.tell(tag, 33, "18:45", "closed", closure="airlock", liquid="no-rinse acid solution")
    c.tell(tag, 33, "18:50", "moved", place="under the stairs", light="dark", air_c=15)
    c.tell(tag, 6, "18:20", "seen", airlock="still", clarity="clear")
    c.tell(tag, 6, "18:25", "tasted", look="mahogany, clear", nose="malt, dark bread", palate="dry, a little hot",
           score_of_10=7, again=True)  # fmt: skip


def _acacia(c: Story) -> None:
    """Healthy: a steady primary, watched and fed on time."""
    tag = "acacia-1"
    c.mix(tag, 7, "Acacia", 4.4, ("jug", 5.0),
          [(1.12, "kg", "acacia honey", "honey"), (3.6, "l", "tap water", "water")],
          target={"sg": 1.084, "finish": "dry"})  # fmt: skip
    c.tell(tag, 7, "10:50", "aerated", how="shaken")
    c.tell(tag, 7, "11:20", "read", gravity={"value": 1.083, "sample_c": 22}, ph=4.0)
    c.pitch(tag, 7, "dry white-wine yeast", "white-wine", 14, 3, low_c=15, high_c=24)
    c.tell(tag, 7, "12:00", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days in (6, 5, 4):
        c.tell(tag, days, "18:20", "swirled", how="gently")
        c.tell(
            tag, days, "18:25", "added", what="diammonium phosphate", category="nutrient", g=0.9, nitrogen_mg_per_g=212
        )
    for days, sg in ((5, 1.075), (4, 1.068), (3, 1.060), (2, 1.053), (1, 1.046)):
        c.read(tag, days, sg, 22, 21)
    c.tell(tag, 1, "18:15", "seen", airlock="bubbling", surface="ring", smell=["bread"])


def _meadow(c: Story) -> None:
    """Finished and bottled: dry, at rest, a year old, some of it drunk."""
    tag = "meadow-1"
    c.mix(tag, 402, "First meadow", 4.5, ("jug", 5.0),
          [(1.2, "kg", "meadow honey", "honey"), (3.6, "l", "tap water", "water")],
          target={"sg": 1.086, "finish": "dry"})  # fmt: skip
    c.tell(tag, 402, "11:10", "read", gravity={"value": 1.086, "sample_c": 20}, ph=3.9)
    c.pitch(tag, 402, "dry sparkling-wine yeast", "sparkling", 17, 4, low_c=10, high_c=27)
    c.tell(tag, 402, "12:00", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days, sg in ((399, 1.066), (395, 1.036), (390, 1.010), (384, 0.998), (375, 0.995)):
        c.read(tag, days, sg, 20, 20)
    c.tell(tag, 375, "18:40", "racked", vessel={"kind": "jug", "capacity_l": 4.5}, volume_l=4.3, lees_l=0.2)
    c.tell(tag, 375, "18:45", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days, sg in ((340, 0.995), (300, 0.994), (250, 0.994), (205, 0.994)):
        c.read(tag, days, sg, 19, 17)
    c.tell(tag, 204, "15:00", "cleaned", how="bottles, then no-rinse acid solution")
    c.tell(tag, 204, "16:00", "bottled", style="still",
           lots=[{"size_ml": 750, "count": 5, "bottle": "still-wine", "closure": "cork"}])  # fmt: skip
    c.tell(tag, 203, "10:00", "moved", place="under the stairs", light="dark", air_c=15)
    c.tell(tag, 96, "20:00", "took", count=1, why="drunk")
    c.tell(tag, 96, "20:10", "tasted", look="pale gold, bright", nose="hay, lemon", palate="dry, clean", balance="good",
           score_of_10=8, again=True)  # fmt: skip
    c.tell(tag, 20, "19:00", "took", count=1, why="given")


def _raspberry(c: Story) -> None:
    """Healthy on fruit, the cap pushed under twice a day."""
    tag = "raspberry-5"
    c.mix(tag, 4, "Raspberry", 5.0, ("bucket", 10.0),
          [(1.25, "kg", "sunflower honey", "honey"), (1.2, "kg", "raspberries", "fruit"), (3.4, "l", "water", "water")],
          target={"sg": 1.080, "finish": "dry"})  # fmt: skip
    c.tell(tag, 4, "11:10", "read", gravity={"value": 1.079, "sample_c": 22}, ph=3.5)
    c.pitch(tag, 4, "dry white-wine yeast", "white-wine", 14, 4, low_c=15, high_c=24)
    c.tell(tag, 4, "12:00", "closed", closure="cloth")
    for days in (3, 2, 1):
        c.tell(tag, days, "07:40", "cap_pushed")
        c.tell(tag, days, "18:30", "cap_pushed")
    c.tell(tag, 0, "07:45", "cap_pushed")
    for days in (3, 2):
        c.tell(
            tag, days, "18:40", "added", what="diammonium phosphate", category="nutrient", g=0.8, nitrogen_mg_per_g=212
        )
    for days, sg in ((2, 1.069), (1, 1.061)):
        c.read(tag, days, sg, 22, 21)
    c.tell(tag, 1, "18:45", "seen", surface="foam", smell=["raspberry", "bread"])


def _bean(c: Story) -> None:
    """Racked the day before yesterday; what closes the new jug was never written down."""
    tag = "bean-flower"
    c.mix(tag, 45, "Bean flower", 4.5, ("jug", 5.0),
          [(1.2, "kg", "bean flower honey", "honey"), (3.6, "l", "tap water", "water")],
          target={"sg": 1.088, "finish": "dry"})  # fmt: skip
    c.tell(tag, 45, "11:10", "read", gravity={"value": 1.087, "sample_c": 21}, ph=4.0)
    c.pitch(tag, 45, "dry white-wine yeast", "white-wine", 14, 3, low_c=15, high_c=24)
    c.tell(tag, 45, "12:00", "closed", closure="airlock", liquid="no-rinse acid solution")
    for days in (44, 43, 42):
        c.tell(
            tag, days, "18:25", "added", what="diammonium phosphate", category="nutrient", g=1.0, nitrogen_mg_per_g=212
        )
    for days, sg in ((43, 1.078), (41, 1.063), (39, 1.049), (36, 1.033), (32, 1.018), (27, 1.007), (20, 0.999),
                     (13, 0.996), (6, 0.995), (2, 0.995)):  # fmt: skip
        c.read(tag, days, sg, 20, 20)
    c.tell(tag, 2, "18:40", "racked", vessel={"kind": "jug", "capacity_l": 4.5}, volume_l=4.3, lees_l=0.2)


def lines() -> list[bytes]:
    """The lines of the ledger, ids and checksums the same on every machine."""
    result, last = [], None
    for number, event in enumerate(story(), start=1):
        digest = int.from_bytes(hashlib.sha256(f"{number} {event.kind}".encode()).digest()[:16], "big")
        last = next_id(last, event.at, lambda bits, digest=digest: digest >> 3 & ((1 << bits) - 1))
        result.append(sealed(encode(stamped(event, last, number))))
    return result


def write(cellar: Path) -> None:
    """Writes the cellar's folder."""
    (cellar / "events").mkdir(parents=True, exist_ok=True)
    (cellar / "cellar.toml").write_text(SETTINGS, encoding="utf-8")
    (cellar / "events" / f"{DEVICE}.jsonl").write_bytes(b"".join(line + b"\n" for line in lines()))


if __name__ == "__main__":
    write(TOP / "sample_cellar")
