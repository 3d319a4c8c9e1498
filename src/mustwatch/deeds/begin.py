"""A batch is mixed."""

from collections.abc import Mapping
from typing import Any

from mustwatch.deeds.add import PRESERVATIVE
from mustwatch.deeds.deed import NOTE, WHEN, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.ground import batch_named
from mustwatch.deeds.readers import gravity_sg, one_of, small, vessel, volume_l
from mustwatch.entry.quantity import fits, named_amount
from mustwatch.entry.substance import kind_of
from mustwatch.ledger.events import TAG, Mixed
from mustwatch.ledger.visible import visible
from mustwatch.said.figures import gravity

INGREDIENTS = ("honey", "sugar", "juice", "fruit", "water", "spice", "acid", "other")
FINISHES = ("dry", "sweet", "sparkling")


def _new_tag(text: str, ground: Ground) -> str:
    tag = small(text, ground)
    if not TAG.fullmatch(tag):
        raise ValueError(f"tag {visible(tag, limit=40)!r}: use small letters, digits and dashes, such as heather-2")
    there = ground.cellar.batches.get(tag)
    if there is not None and (there.mixed or any(isinstance(event, Mixed) for event in there.ahead)):
        raise ValueError(f"there is a batch {tag} already; a new one needs a tag of its own, such as {tag}-2")
    return tag


def _recipe(text: str, ground: Ground) -> Mixed:
    batch = batch_named(ground.cellar, small(text, ground))
    if batch.mixed is None:
        raise ValueError(f"{batch.tag} has no recipe to repeat: it was never mixed")
    return batch.mixed


def _drink(text: str, ground: Ground) -> str:
    """The tag of the batch whose drink goes into the new one."""
    return batch_named(ground.cellar, small(text, ground)).tag


def _ingredient(category: str) -> Field:
    def read(text: str, ground: Ground) -> dict[str, Any]:
        part = named_amount(text, category, ground.settings.gallon)
        return part | {"category": kind_of(part["what"])[0] if category == "other" else category}

    hint = "1.3 kg heather + 200 g lime" if category == "honey" else "the same"
    return Field(category, hint, read, several=True, line=f"--{category} AMOUNT [NAME] ...")


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    values, own = answers.values, answers.keys()
    repeated = values.get("from")
    keys: Keys = _kept(repeated) | {"from_batch": repeated.batch, "recipe_only": True} if repeated else {}
    if repeated and "from_batch" in own:
        answers.faults["part_of"] = "its recipe or its drink? Give from or part of, not both"
    target = own.get("target", {})
    own["ingredients"] = [part for name in INGREDIENTS for part in values.get(name, ())]
    keys |= {name: value for name, value in own.items() if value not in (None, [], {})}
    keys.setdefault("name", values["tag"])
    try:
        fits(keys.get("volume_l"), keys.get("vessel"))
    except ValueError as error:
        answers.faults["volume"] = str(error)
    if (end := target.get("final_sg")) and (start := target.get("sg")) and end >= start:
        answers.faults["target_end"] = f"{gravity(end)} is not below {gravity(start)}; which is right?"
    return [("mixed", keys)]


def _cautions(values: Mapping[str, Any]) -> tuple[str, ...]:
    """What can hurt in what is mixed in beside food: sulfite under any of its names."""
    parts = [part for name in INGREDIENTS for part in values.get(name, ()) if isinstance(part, dict)]
    kinds = {kind_of(part["what"])[0] for part in parts}
    return (PRESERVATIVE,) if kinds & {"sulfite", "sorbate"} else ()


def _kept(mixed: Mixed) -> Keys:
    kept = mixed.model_dump(mode="json", exclude_none=True, exclude_unset=True)
    return {name: kept[name] for name in ("volume_l", "vessel", "ingredients", "target") if name in kept}


DEED = Deed(
    "begin",
    "mixed",
    "a new must",
    "mix a batch; amounts as you write them: 1.5 kg, 3 lb, 4 l, 1 US gal",
    (
        Field("tag", "short, such as heather-2", _new_tag, line="TAG",
              asked="which tag? Small letters, digits and dashes, such as heather-2"),
        Field("name", "what you call it", key="name", line="--name TEXT"),
        Field("style", "in words of your own", key="style", line="--style TEXT"),
        Field("volume", "of the finished must, not of the water", volume_l, "volume_l", line="--volume AMOUNT"),
        Field("vessel", "kind and size, such as jug 5 l", vessel, "vessel", line="--vessel KIND SIZE"),
        *(_ingredient(category) for category in INGREDIENTS),
        Field("target", "planned start, as 1.090 or 22Bx", gravity_sg, "target.sg", line="--target GRAVITY"),
        Field("target_end", "planned end", gravity_sg, "target.final_sg", label="target end",
              line="--target-end GRAVITY"),
        Field("finish", "letter or space picks", one_of(*FINISHES), "target.finish", FINISHES),
        Field("from", "the batch whose recipe is repeated", _recipe, line="--from TAG"),
        Field("part_of", "the batch whose drink it is; its yeast comes too", _drink, "from_batch", label="part of",
              line="--part-of TAG"),
        WHEN,
        NOTE,
    ),
    events=_events,
    cautions=_cautions,
    of="new",
)  # fmt: skip
