"""How warm the must is beside what its yeast likes, and what to do about it."""

from mustwatch.cellar.batch import Batch, Temperature
from mustwatch.rules import words
from mustwatch.rules.view import View

WORTH_WARMING_C = 2.0  # so far below the middle of the range; a thermometer at home is no finer


def must_temperature(batch: Batch) -> Temperature | None:
    """The newest temperature of the must itself, None where none is recorded: the air is another."""
    return next((taken for taken in reversed(batch.temperatures) if not taken.of_air), None)


def warmth_step(view: View) -> str:
    """What to do about a slow must's warmth; a must within its yeast's range is never cooled."""
    taken, yeast = must_temperature(view.batch), view.batch.yeast
    if yeast is None:
        return "Measure the must's temperature."
    low, high = words.temperature(view, yeast.low_c), words.temperature(view, yeast.high_c)
    middle_c = (yeast.low_c + yeast.high_c) / 2
    middle = words.temperature(view, middle_c)
    if taken is None:
        return f"Measure the must's temperature. If it is below {low}, warm the must slowly to about {middle}."
    read = f"It read {words.temperature(view, taken.celsius)} on {words.date(view, taken.at)}"
    if taken.celsius < yeast.low_c:
        return f"Warm the must slowly to about {middle}. {read}, and its yeast needs {low}."
    if taken.celsius > yeast.high_c:
        return f"Cool the must slowly to {high}. {read}, warmer than its yeast bears."
    if taken.celsius < middle_c - WORTH_WARMING_C:
        return f"Warm the must slowly to about {middle}. {read}, near the cold end for its yeast."
    return f"Keep the must as warm as it is. {read}, which suits its yeast."
