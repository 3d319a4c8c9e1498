"""A batch mixed from the drink of another: it brings that one's yeast, whether or not anybody pitches again."""

from collections.abc import Callable, Mapping, Sequence

from mustwatch.cellar.batch import Reading
from mustwatch.cellar.kinds import Kinds
from mustwatch.cellar.lives import named, present_life
from mustwatch.cellar.unrecorded import Unrecorded, unrecorded_pitching
from mustwatch.ledger.events import Event, Ingredient, Mixed, Pitched, Yeast

Readings = Callable[[Kinds], Sequence[Reading]]
SAME_SHARE = 0.05  # amounts of a repeated recipe are all larger or smaller by one factor, but for rounding


def brought_by(
    tag: str, stories: Mapping[str | None, Sequence[Event]], readings: Readings, passed: frozenset[str] = frozenset()
) -> Unrecorded | None:
    """The yeast that a batch brought from another one; None where it was mixed of fresh must, or of a must unpitched.

    stories: of all batches by tag; readings: those of a story that judgements may use. A batch that is not on record
    is taken to have been alive.
    """
    own = stories.get(tag, ())
    if not any(type(event) is Mixed and event.from_batch for event in own):
        return None
    mixed = Kinds(present_life(own)).last(Mixed)
    if mixed is None or not mixed.from_batch or _repeats(mixed, stories):
        return None
    source = mixed.from_batch
    before = [named(event) for event in stories.get(source, ()) if event.at <= mixed.at]
    kinds = Kinds(before)
    if not before or source in passed:
        return _taken(mixed, f"it was made from {source}, of which nothing is known")
    pitches = kinds.all(Pitched)
    if pitches:
        return _taken(mixed, f"it was made from {source}, which was pitched", pitches[-1].yeast)
    sign = unrecorded_pitching(kinds, readings(kinds))
    if sign is not None:
        return _taken(mixed, f"it was made from {source}, which was at work: {sign.why}", sign.pitched.yeast)
    brought = brought_by(source, stories, readings, passed | {tag})
    return _taken(mixed, f"it was made from {source}: {brought.why}", brought.pitched.yeast) if brought else None


def _taken(mixed: Mixed, why: str, yeast: Yeast | None = None) -> Unrecorded:
    # It bears the id of the mixing: findings then rest on a line that is in the ledger.
    return Unrecorded(Pitched(id=mixed.id, at=mixed.at, batch=mixed.batch, yeast=yeast or Yeast()), why)


def _repeats(mixed: Mixed, stories: Mapping[str | None, Sequence[Event]]) -> bool:
    """Whether it names the other batch for its recipe alone: it says so, or its amounts are those of the other."""
    if mixed.recipe_only is not None:
        return mixed.recipe_only
    source = Kinds([event for event in stories.get(mixed.from_batch, ()) if isinstance(event, Mixed)]).last(Mixed)
    if source is None or not mixed.ingredients or len(mixed.ingredients) != len(source.ingredients):
        return False
    pairs = list(zip(mixed.ingredients, source.ingredients, strict=True))
    shares = [share for new, old in pairs if (share := _share(new, old)) is not None]
    same = all((new.what, new.category) == (old.what, old.category) for new, old in pairs)
    return same and (not shares or max(shares) - min(shares) <= SAME_SHARE * max(shares))


def _share(new: Ingredient, old: Ingredient) -> float | None:
    had, has = old.kg or old.l, new.kg or new.l
    return None if not had else (has or 0.0) / had
