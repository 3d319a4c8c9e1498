"""`compare`: the keys of the contract, and two columns that fit the terminal."""

from __future__ import annotations

import pytest
from test_sample_cellar import SAMPLE


@pytest.fixture
def sample(run):
    """The sample cellar, looked at with one command."""
    return lambda *words: run("--cellar", str(SAMPLE), *words)


def test_json_has_the_keys_of_the_contract(sample) -> None:
    """Each side has recipe, course and outcome, and what differs is what stands there."""
    found = sample("compare", "meadow-1", "heather-2", "--json").json
    assert set(found) == {"a", "b", "differs"}
    assert all({"recipe", "course", "outcome"} <= set(found[side]) for side in "ab")
    parts = {side: {**found[side]["recipe"], **found[side]["outcome"]} for side in "ab"}
    gravity = next(one for one in found["differs"] if one["what"] == "start_sg")
    assert gravity == {"what": "start_sg", "a": 1.086, "b": parts["b"]["start_sg"]}
    assert "volume_l" not in [one["what"] for one in found["differs"]] and parts["a"]["volume_l"] == 4.5
    assert len(found["a"]["course"]["readings"]) == len(sample("show", "meadow-1", "--json").json["readings"])


def test_both_columns_fit_the_terminal_and_both_courses_are_drawn(sample) -> None:
    """79 columns, also with long words in a recipe."""
    out = sample("compare", "meadow-1", "heather-2").out
    assert all(len(line) <= 79 for line in out.splitlines())
    drawn = out.partition("gravity by days")[2].splitlines()[1:-1]
    assert sum(line.count("a") for line in drawn) >= 5 and sum(line.count("b") for line in drawn) >= 5
    assert "start gravity   1.086                           1.118" in out


def test_plain_tells_the_readings_in_place_of_the_chart(sample) -> None:
    """A chart cannot be heard."""
    out = sample("compare", "meadow-1", "heather-2", "--plain").out
    assert "gravity by days" not in out and "readings of meadow-1" in out and "  day 3: 1.066" in out


def test_a_batch_beside_itself_differs_in_nothing(sample) -> None:
    """Whatever is compared, it is compared alike."""
    assert sample("compare", "meadow-1", "meadow-1", "--json").json["differs"] == []


def test_a_tag_that_is_not_there_is_refused(sample) -> None:
    """One line, status 2, with the tags there are."""
    ran = sample("compare", "meadow-1", "nosuch")
    assert ran.status == 2 and "heather-2" in ran.err
