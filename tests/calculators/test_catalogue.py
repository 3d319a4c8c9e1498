"""All sixteen calculations: each answers its own example, and none ever answers with nonsense."""

import json
import math
import shlex

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mustwatch.calculators.catalogue import NAMES, calculation, calculations
from mustwatch.calculators.kinds import KINDS
from mustwatch.calculators.purposes import PURPOSES
from mustwatch.said.terminal import spelled

# As the command-line contract lists them.
CONTRACT = (
    "convert correct must honey strength refract sweeten dilute "
    "blend feed sulfite sorbate prime pressure headspace bottles"
)


def example_of(chosen):
    return dict(word.split("=", 1) for word in shlex.split(chosen.example))


def test_the_sixteen_are_there_in_order():
    assert " ".join(NAMES) == CONTRACT
    assert [each.name for each in calculations()] == list(PURPOSES)


def test_an_unknown_one_is_told_the_known_ones():
    with pytest.raises(ValueError, match="no 'mash'; it has convert, correct"):
        calculation("mash")


@pytest.mark.parametrize("name", NAMES)
def test_its_own_example_is_answered(name):
    """The example stands in the help: it must work, in full, and hold a caution, method, range and source."""
    result = calculation(name).answer(example_of(calculation(name)))
    assert result.lines and result.method and result.range and result.source
    assert result.cautions
    json.dumps(result.as_document(), allow_nan=False)


@pytest.mark.parametrize("name", NAMES)
def test_all_its_words_have_a_plain_form_and_fit_the_screen(name):
    """It must be readable on a console without more than ASCII, 80 columns wide: `20 C`, never `20 <b0>C`."""
    chosen = calculation(name)
    result = chosen.answer(example_of(chosen))
    texts = [chosen.purpose, chosen.method, chosen.source, chosen.range, *result.cautions]
    texts += [text for pair in result.lines for text in pair]
    texts += [text for field in chosen.fields for text in (field.label, field.help, field.hint)]
    plain = [spelled(text, True) for text in texts]
    assert all(text.isascii() and text.count("<") == texts[n].count("<") for n, text in enumerate(plain))
    assert all(len(label) <= 21 for label, _ in result.lines)
    assert all(len(field.label) <= 14 for field in chosen.fields)
    assert len(f" {chosen.name}  {chosen.purpose}") <= 80


@pytest.mark.parametrize("name", NAMES)
def test_every_default_can_be_read(name):
    for field in calculation(name).fields:
        assert field.kind in KINDS
        if field.default:
            KINDS[field.kind].read(field.default, field.choices, field.unit)


BITS = st.sampled_from(
    ["", "0", "-1", "1e9", "nan", "1.1", "0.95", "12", "5L", "1 US gal", "0ml", "20C", "400F", "3 kg", "yes", "?", "us"]
    + ["honey", "750x2", "3 bar", "30Bx", "jug", "sugar", "honey 3 kg, apple 900 lb", "\x1b[2J", "½", "9" * 40]
)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_whatever_is_typed_is_answered_or_refused_in_one_line(name, data):
    """No other exception, and no number that is not one."""
    chosen = calculation(name)
    typed = example_of(chosen)
    for field in data.draw(st.lists(st.sampled_from(chosen.fields), max_size=3)):
        typed[field.name] = data.draw(BITS)
    try:
        result = chosen.answer(typed)
    except ValueError as refused:
        assert "\n" not in str(refused)
        return
    assert all(math.isfinite(value) for value in result.result.values() if isinstance(value, float))
