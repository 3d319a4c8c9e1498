"""Words that tell of gas in a bottle, and words that do not."""

import pytest
from rules.scenario import batch_of, story

from mustwatch.judgement.gassy import are_suspect, gas_signs, names_gas, opened_well_since, words_of

GASSY = (
    "hissed", "it hisses when opened", "fizzy", "a bit of fizz", "foamed up", "frothy", "gushed over the table",
    "tastes of gas", "gassy", "a little CO2 on the tongue", "bubbles in the glass", "slightly sparkling", "spritzy",
    "p\u00e9tillant", "prickly on the tongue", "effervescent", "carbonated", "pshhh when opened",
    "cork pushed half out", "a cork was lifting", "the caps bulge, one cap is domed", "cork flew across the kitchen",
    "it blew the cork out", "swing top lifted", "crown caps weeping", "the cork stands proud", "not clear; fizzy",
)  # fmt: skip
PLAIN = (
    "no hiss", "not fizzy", "isn't fizzy", "never gassy", "no sign of gas", "without any gas or bubbles",
    "no longer fizzy", "nothing hissed", "zero fizz", "didn't foam", "no cork moved", "corks have not moved",
    "none of the caps lifted", "popped a bottle for a birthday", "cork came out easily", "pushed the cork in",
    "prickly pear", "a prickle of ginger", "bubblegum", "bubble gum", "sparkling clear", "raisins and honey",
    "fizzles out on the finish", "degassed before bottling", "gas station nose", "flat and still", "crisp",
)  # fmt: skip


@pytest.mark.parametrize("text", GASSY)
def test_words_of_gas_are_heard(text):
    """In the words that people use over a sink."""
    assert names_gas(text)


@pytest.mark.parametrize("text", PLAIN)
def test_words_that_deny_it_or_speak_of_something_else_are_not(text):
    """A danger over a birthday would teach people to look away."""
    assert not names_gas(text)


BASE = """
    day 0         read 1.075
    day 0 09:30   pitched ale
    day 45        read 0.998
    day 60        read 0.998
    day 61        bottled 3x750 still-wine cork 6x330 beer crown-cap still
"""


@pytest.mark.parametrize(("line", "told"), [
    ("seen bubbling", True), ("seen foamed", True), ("seen foam", True), ("seen still", False), ("seen clean", False),
    ("seen \"caps hissing\"", True), ("tasted look=fizzy", True), ("tasted nose=fizzy", True),
    ("tasted balance=fizzy", True), ("tasted \"fizzy\"", True), ("tasted palate=dry", False),
    ("took 1 given note=hissed", True), ("noted \"hissed\"", False),
])  # fmt: skip
def test_looks_tastings_and_bottles_taken_tell_of_gas(line, told):
    """A note alone is asked about, not judged."""
    assert bool(gas_signs(batch_of(BASE + f"    day 90 {line}\n"))) is told


@pytest.mark.parametrize(("line", "told"), [
    ("seen bubbling foam", False), ("tasted palate=fizzy", False), ("tasted palate=\"bottle was fizzy\"", True),
    ("took 1 drunk note=fizzy", True),
])  # fmt: skip
def test_where_a_part_lies_in_a_jug_a_look_tells_of_the_jug(line, told):
    """It may well bubble there; a bottle that was taken is a bottle."""
    assert bool(gas_signs(batch_of(BASE + f"    day 62 racked jug 2l\n    day 90 {line}\n"))) is told


@pytest.mark.parametrize(("day", "well"), [("119 23:59", False), ("120 09:00", True)])
def test_a_bottle_opened_well_a_month_later_is_some_comfort(day, well):
    """Thirty days after the last that was not."""
    batch = batch_of(BASE + f"    day 90 took 1 drunk note=hissed\n    day {day} took 1 drunk\n")
    signs = gas_signs(batch)
    assert opened_well_since(batch, signs[-1], signs) is well
    assert are_suspect(batch) is not well


@pytest.mark.parametrize(("lines", "suspect"), [
    ("took 1 drunk note=hissed", True), ("took 1 drunk", False), ("took 1 broken burst=true", True),
    ("took 1 broken", False), ("took 1 drunk note=hissed|read 0.998", True),
    ("took 1 drunk note=hissed|read 0.998|read 0.998", False), ("took 1 drunk note=hissed|read 0.998|read 0.994", True),
    ("took 1 drunk note=hissed|took 8 given", False), ("took 1 drunk note=hissed|poured_back jug airlock", False),
])  # fmt: skip
def test_no_page_calls_a_lot_safe_while_a_bottle_tells_of_gas(lines, suspect):
    """Readings before it and powders prove nothing then; two bottles that read as at bottling do."""
    text = "".join(f"    day {day} {line}\n" for day, line in enumerate(lines.split("|"), 90))
    view = story(BASE + text).view()
    assert are_suspect(view.batch) is suspect
    if suspect:
        assert not view.verdict.safe and view.verdict.state not in ("stable", "finished")


def test_the_lot_that_a_line_names_is_among_its_words():
    """A take that names its lot needs no words for it."""
    batch = batch_of(BASE + "    day 90 took 1 tested lot=B note=gushed\n")
    assert words_of(batch.story[-1]) == "gushed; lot B"
