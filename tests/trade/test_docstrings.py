"""Every public function of the trade tells its units, range and source, and shows itself working."""

import doctest
import importlib
import inspect
import pkgutil
import re

import pytest

import mustwatch.trade

UNIT = re.compile(
    r"°C|°F|kg/m³|\bkg\b|\bg/L\b|mg/L|mL/L|\bgrams?\b|\bkilograms?\b|\blit(re|er)s?\b|\bL\b|%|\bbar\b|\bpsi\b|MPa"
    r"|\bPa\b|\bppm\b|\bg\b|\bmg\b|\bmol|m³|\bBrix\b|\bPlato\b|\bSG\b|specific gravity|\bvolumes\b|\bhours?\b|\bdays?\b"
    r"|\bpH\b|\bunits?\b|thousandths|pure number|whole number|dimensionless|\bratio\b|a fraction|sentences|lines",
    re.IGNORECASE,
)


def public_functions():
    """(name, function) of every function a module of the trade offers under its own name."""
    for found in pkgutil.iter_modules(mustwatch.trade.__path__):
        module = importlib.import_module(f"mustwatch.trade.{found.name}")
        for name, thing in vars(module).items():
            plain = inspect.unwrap(thing) if callable(thing) else thing
            if name.startswith("_") or not inspect.isfunction(plain) or plain.__module__ != module.__name__:
                continue
            yield pytest.param(plain, id=f"{found.name}.{name}")


FUNCTIONS = list(public_functions())


def test_the_trade_is_found():
    """Else the checks below would pass over nothing."""
    assert len(FUNCTIONS) > 60


@pytest.mark.parametrize("function", FUNCTIONS)
def test_a_docstring_tells_units_range_and_source(function):
    """A number without these three cannot be trusted, or used."""
    text = inspect.getdoc(function) or ""
    assert UNIT.search(text.split("\n\n")[0] or ""), "the first line must say what comes back, with its unit"
    assert re.search(r"^\s*(Range|range)\b.*\S", text, re.MULTILINE), "no line begins with Range"
    assert re.search(r"^\s*Source: \S", text, re.MULTILINE), "no line begins with Source:"
    assert "Error" in text or "ValueError" in text or "Range: any" in text, "nothing is said of errors"


@pytest.mark.parametrize("function", FUNCTIONS)
def test_a_docstring_shows_the_function_working(function):
    """The doctests themselves are run with the suite; here they must exist and call the function."""
    examples = doctest.DocTestParser().get_examples(inspect.getdoc(function) or "")
    assert any(function.__name__ in example.source for example in examples)


@pytest.mark.parametrize("function", FUNCTIONS)
def test_every_argument_and_result_is_annotated(function):
    """Bare floats say their unit in the name; the rest in the type."""
    hints = inspect.signature(function)
    assert hints.return_annotation is not inspect.Signature.empty
    assert all(each.annotation is not inspect.Parameter.empty for each in hints.parameters.values())
