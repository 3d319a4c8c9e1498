"""A batch is mixed."""

from collections.abc import Mapping
from typing import Any

from mustwatch.deeds.add import PRESERVATIVE
from mustwatch.deeds.deed import NOTE, SURE, WHEN, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.ground import batch_named
from mustwatch.deeds.readers import gravity_sg, one_of, small, vessel, volume_l
from mustwatch.entry.quantity import fits, named_amount
from mustwatch.entry.substance import kind_of
from mustwatch.judgement.amounts import unfit_volume
from mustwatch.ledger.events import TAG, Ingredient, Mixed
from mustwatch.ledger.visible import visible
from mustwatch.said.figures import grams, gravity, litres

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
    keys: Keys = _repeated(answers, repeated) if repeated else {}
    if repeated and "from_batch" in own:
        answers.faults["part_of"] = "its recipe or its drink? Give from or part of, not both"
    target = own.get("target", {})
    own["ingredients"] = [part for name in INGREDIENTS for part in values.get(name, ())]
    keys |= {name: value for name, value in own.items() if value not in (None, [], {})}
    keys.setdefault("name", values["tag"])
    _fit_together(answers, keys)
    try:
        fits(keys.get("volume_l"), keys.get("vessel"))
    except ValueError as error:
        answers.faults.setdefault("volume", str(error))
    if (end := target.get("final_sg")) and (start := target.get("sg")) and end >= start:
        answers.faults["target_end"] = f"{gravity(end)} is not below {gravity(start)}; which is right?"
    return [("mixed", keys)]


def _cautions(values: Mapping[str, Any]) -> tuple[str, ...]:
    """What can hurt in what is mixed in beside food: sulfite under any of its names."""
    parts = [part for name in INGREDIENTS for part in values.get(name, ()) if isinstance(part, dict)]
    kinds = {kind_of(part["what"])[0] for part in parts}
    return (PRESERVATIVE,) if kinds & {"sulfite", "sorbate"} else ()


def _fit_together(answers: Answers, keys: Keys) -> None:
    """Asks where honey and water do not make the volume that was given, with the one they make; or keeps the answer."""
    if answers.values.get("sure") == "yes":
        keys["sure"] = True
        return
    parts = [Ingredient.model_validate(one) for one in keys.get("ingredients", ())]
    made, volume = unfit_volume(keys.get("volume_l"), parts), keys.get("volume_l")
    if made is not None and volume is not None:
        made_l = f"{litres(made.volume_l)} at {gravity(made.sg)}"
        question = f"honey and water make about {made_l}, not {litres(volume)}; which is right? If the volume, say sure"
        answers.faults.setdefault("volume", question)


def _repeated(answers: Answers, mixed: Mixed) -> Keys:
    """The recipe of another batch; scaled, and without its vessel, where another volume is wanted."""
    kept = mixed.model_dump(mode="json", exclude_none=True, exclude_unset=True)
    keys: Keys = {name: kept[name] for name in ("volume_l", "vessel", "ingredients", "target") if name in kept}
    keys |= {"from_batch": mixed.batch, "recipe_only": True}
    wanted, was = answers.values.get("volume"), mixed.volume_l
    if wanted is None or wanted == was:
        return keys
    if not was:
        answers.faults["volume"] = f"the volume of {mixed.batch} is not recorded, so its amounts cannot be scaled"
        return keys
    keys["ingredients"] = [_scaled(one, wanted / was) for one in keys.get("ingredients", ())]
    keys.pop("vessel", None)
    answers.said.append(
        f"amounts of {mixed.batch} times {wanted / was:.3g}, for {litres(wanted)} in place of {litres(was)}"
    )
    answers.said += _also_scaled(answers.ground, mixed, wanted / was)
    return keys


def _scaled(part: Keys, factor: float) -> Keys:
    return part | {name: round(part[name] * factor, 4) for name in ("kg", "l") if part.get(name) is not None}


def _also_scaled(ground: Ground, mixed: Mixed, factor: float) -> list[str]:
    """What went in after that mixing, in the new measure: yeast and its food."""
    batch = ground.cellar.batches.get(mixed.batch or "")
    if batch is None:
        return []
    yeast = [f"{grams(pitch.g * factor)} of yeast" for pitch in batch.recorded_pitches[:1] if pitch.g]
    food = [f"{grams(a.g * factor)} of {a.what}" for a in batch.additions if a.category == "nutrient" and a.g]
    return [f"in the same measure: {', '.join([*yeast, *food])}"] if yeast or food else []


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
        SURE,
        WHEN,
        NOTE,
    ),
    events=_events,
    cautions=_cautions,
    of="new",
)  # fmt: skip
