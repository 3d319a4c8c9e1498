"""`list`: one line a batch, in the order of need, and the keys of the contract."""

from __future__ import annotations

from pathlib import Path

import pytest
from test_sample_cellar import EXPECTED, SAMPLE

KEYS = {"batch", "name", "stage", "since", "sg", "read_at", "seen_at", "state", "worst"}
ORDER = ("danger", "today", "watch", "note", None)


@pytest.fixture
def sample(run):
    """The sample cellar, looked at with one command."""
    return lambda *words: run("--cellar", str(SAMPLE), *words)


def test_each_batch_has_one_line_that_begins_with_its_tag(sample) -> None:
    """A line is what a screen reader says in one go; nothing is drawn with signs."""
    lines = sample("list").out.splitlines()
    assert sorted(line.partition(":")[0] for line in lines) == sorted(EXPECTED)
    assert not any(sign in line for line in lines for sign in ("|", "--", "==", "~", "!", "\x1b", "  "))


def test_the_line_tells_finding_stage_gravity_its_age_the_look_and_the_state(sample) -> None:
    """Held to the sample's story: stalled at 1.057 since April, read and looked at the evening before."""
    line = next(line for line in sample("list").out.splitlines() if line.startswith("heather-2"))
    assert line == (
        "heather-2: today, stalled; primary since 20 Apr; 1.057 read 24 hours ago; looked at 24 hours ago; stalled"
    )


def test_json_has_the_keys_of_the_contract_and_the_worst_comes_first(sample) -> None:
    """The order of the list is that of the round."""
    batches = sample("list", "--json").json["batches"]
    assert all(set(one) >= KEYS for one in batches)
    places = [ORDER.index(one["worst"]) for one in batches]
    assert places == sorted(places) and places[0] == 0
    meadow = next(one for one in batches if one["batch"] == "meadow-1")
    assert (meadow["stage"], meadow["worst"], meadow["read_at"][:10]) == ("bottled", None, "2025-10-21")


def test_the_gravity_has_the_age_of_its_own_reading_and_not_of_the_last_look(sample) -> None:
    """A gravity seven weeks old beside a look of yesterday tells a half-truth."""
    bramble = next(one for one in sample("list", "--json").json["batches"] if one["batch"] == "bramble")
    assert bramble["read_at"] < bramble["seen_at"]
    assert "1.018 read 49 days ago; looked at 12 days ago" in sample("list").out


def test_ended_batches_come_with_all(fir) -> None:
    """They stay in the record, and out of the way."""
    fir("end", "fir", "dumped")
    assert "list --all" in fir("list").out and fir("list", "--json").json["batches"] == []
    assert [one["stage"] for one in fir("list", "--all", "--json").json["batches"]] == ["ended"]


def test_what_is_hushed_is_counted_and_not_called_nothing(fir) -> None:
    """It sleeps, it is not gone."""
    fir("log", "fir", "1.088", "20C", "@2026-03-02", "09:00")
    for one in fir("check", "--json").json["findings"]:
        fir("hush", "fir", one["rule"], "--until", "2099-01-01")
    listed = fir("list").out
    assert "hushed" in listed and fir("list", "--json").json["batches"][0]["worst"] is None


def test_ratings_make_a_list_the_best_first(fir) -> None:
    """Of each the last score counts; what was never scored is left out, what has ended is not."""
    for tag, scores in (("elm", ("9", "6.5")), ("oak", ("8",)), ("ash", ())):
        fir("begin", tag, "--honey", "1 kg", "--volume", "4 l", "--at", "2026-03-01")
        for score in scores:
            fir("taste", tag, "--score", score, "--again", "yes")
    fir("end", "oak", "drunk")
    assert [line.split(",")[0] for line in fir("list", "--rated").out.splitlines()] == [
        "oak: 8 of 10",
        "elm: 6.5 of 10",
    ]
    assert "tasted twice" in fir("list", "--rated").out and "; again" in fir("list", "--rated").out
    assert [one["score"] for one in fir("list", "--rated", "--json").json["batches"]] == [8, 6.5]


def test_no_rating_is_said(fir) -> None:
    """With the way to give one."""
    assert "taste TAG --score" in fir("list", "--rated").out


def test_an_empty_cellar_says_so(run) -> None:
    """No output at all would look like a failure."""
    run("init")
    assert run("list").out == "no batch yet\n"


def test_a_tag_that_is_not_there_is_answered_with_all_tags_or_how_many_more(fir) -> None:
    """Nobody should have to open the round to learn a tag."""
    for number in range(11):
        fir("begin", f"elm-{number:02}", "--honey", "1 kg", "--volume", "4 l")
    few = fir("show", "nosuch").err
    assert all(f"elm-{number:02}" in few for number in range(11)) and "fir" in few and "more" not in few
    fir("begin", "oak", "--honey", "1 kg", "--volume", "4 l")
    many = fir("show", "elm-1")
    assert many.status == 2 and len(many.err.splitlines()) == 1
    assert "there is: elm-1" in many.err and "and 1 more; `mustwatch list --all` names them" in many.err


def test_the_plain_course_tells_each_reading_once_without_drawn_signs(sample, home: Path) -> None:
    """A chart cannot be heard; its figures can. The fall is that of the story: 1.118 to 1.111."""
    out = sample("show", "heather-2", "--plain").out
    readings = sample("show", "heather-2", "--json").json["readings"]
    assert sum(" at 20 " in line or " at 22 " in line for line in out.splitlines()) == len(readings)
    assert "18 Apr 11:20: 1.117 at 22 °C -> 1.118" in out and "down 6.6 points in 2 days" in out
    assert "eight in ten readings" in out and "---" not in out and "|" not in out
