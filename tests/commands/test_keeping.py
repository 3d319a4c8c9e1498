"""A batch kept from honey to the last bottle by plain commands; every refusal is one line and saves nothing."""

from __future__ import annotations

import json

import pytest


def _kinds(run) -> list[str]:
    return [json.loads(line)["kind"] for line in run("events").out.splitlines()]


def test_a_batch_can_be_kept_from_honey_to_the_last_bottle(fir) -> None:
    """Each step by one command; the story tells them all in order."""
    steps = [
        ["add", "fir", "diammonium phosphate", "2 g", "--at", "2026-03-02 10:00"],
        ["log", "fir", "1.070", "20C", "bubbling", "@2026-03-06"],
        ["log", "fir", "1.020", "20C", "@2026-03-20"],
        ["log", "fir", "0.998", "20C", "@2026-04-05"],
        ["rack", "fir", "--into", "jug 4.5 l", "--lees", "300 ml", "--closure", "airlock", "--at", "2026-04-05 19:00"],
        ["log", "fir", "0.997", "20C", "@2026-05-05"],
        ["log", "fir", "0.997", "20C", "@2026-06-05"],
        ["bottle", "fir", "5 x 750 ml still-wine cork", "--style", "still", "--at", "2026-06-06 10:00"],
        ["take", "fir", "2", "--why", "drunk", "--at", "2026-09-01"],
        ["taste", "fir", "--nose", "resin", "--score", "8", "--again", "yes", "--at", "2026-09-01"],
        ["note", "fir", "kept", "under", "the", "stairs"],
    ]
    for words in steps:
        ran = fir(*words)
        assert ran.status == 0, (words, ran.err)
    shown = fir("show", "fir", "--json").json
    assert shown["stage"] == "bottled" and shown["bottles"] == {"made": 5, "left": 3}
    assert shown["volume_l"] == pytest.approx(4.2)
    assert "3 bottles left" in fir("end", "fir", "drunk").err
    assert fir("end", "fir", "drunk", "--left", "taken").status == 0
    shown = fir("show", "fir", "--json").json
    assert (shown["stage"], shown["bottles"]["left"]) == ("ended", 0)


def test_what_was_typed_in_other_units_is_kept_beside_the_metric(fir) -> None:
    """So that a slip in the conversion can be seen later; 1 US gal is 3.785411784 l, 1 lb 0.45359237 kg (NIST)."""
    fir("begin", "elm", "--honey", "3 lb", "--volume", "1 US gal")
    mixed = json.loads(fir("events", "--batch", "elm").out.splitlines()[0])
    assert mixed["volume_l"] == pytest.approx(3.785412, abs=1e-4)
    assert mixed["ingredients"][0]["kg"] == pytest.approx(1.360777, abs=1e-5)
    assert mixed["typed"] == "1 US gal; 3 lb"


def test_a_recipe_can_be_repeated(fir) -> None:
    """The best batch is the one that can be made again."""
    assert fir("begin", "fir-2", "--from", "fir").status == 0
    first, second = (fir("show", tag, "--json").json for tag in ("fir", "fir-2"))
    pick = [event for event in second["story"] if event["kind"] == "mixed"][0]
    assert pick["from_batch"] == "fir" and second["volume_l"] == first["volume_l"]
    assert pick["ingredients"] == [event for event in first["story"] if event["kind"] == "mixed"][0]["ingredients"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["begin", "Fir 3"], "small letters"),
        (["begin", "fir"], "already"),
        (["begin", "oak", "--honey", "much"], "1.5 kg"),
        (["begin", "oak", "--volume", "1 gal"], "imperial"),
        (["begin", "oak", "--vessel", "5 l"], "kind and size"),
        (["begin", "oak", "--from", "elm"], "no batch 'elm'"),
        (["pitch", "elm"], "no batch 'elm'; there is: fir"),
        (["pitch", "fir", "--range", "24C-15C"], "lower one"),
        (["pitch", "fir", "--must", "20"], "20C"),
        (["pitch", "fir", "--tolerance", "70"], "tolerance"),
        (["close", "fir", "bung"], "airlock"),
        (["add", "fir", "nutrient", "a lot"], "1.5 kg"),
        (["add", "fir", "oak chips", "2 g", "--taste-by", "soon"], "no day I know"),
        (["rack", "fir", "--volume", "much"], "much"),
        (["bottle", "fir", "six"], "12 x 330ml"),
        (["bottle", "fir", "6 x 750 ml flask"], "neither a bottle"),
        (["take", "fir", "3"], "0 bottles left"),
        (["taste", "fir"], "empty tasting note"),
        (["taste", "fir", "--score", "11"], "score"),
        (["end", "fir", "lost"], "vinegar"),
        (["note", "fir", " "], "empty note"),
        (["hush", "fir", "stalled", "--until", "2030-01-01"], "has found nothing"),
        (["log", "fir", "12"], "12Bx"),
        (["log", "fir"], "nothing to save"),
        (["log", "elm", "1.050"], "no batch"),
        (["log", "fir", "1.050", "@2090-01-01"], "still to come"),
        (["--now", "2026-03-05T00:00:00Z", "log", "fir", "1.050"], "read-only"),
        (["--now", "2026-03-05", "close", "fir", "airlock"], "read-only"),
        (["show"], "TAG"),
        (["show", "elm"], "no batch"),
        (["--now", "soon", "check"], "no time"),
        (["frobnicate"], "no command"),
        (["--cellar", "/nonexistent-cellar", "check"], "mustwatch init"),
    ],
)
def test_bad_use_is_answered_with_one_line_and_saves_nothing(fir, words: list[str], says: str) -> None:
    """Exit status 2, what is wrong and what would be right, and not one line more in the ledger."""
    before = fir("events").out
    ran = fir(*words)
    assert (ran.status, ran.out) == (2, "")
    assert says in ran.err and ran.err.startswith("mustwatch: ") and ran.err.count("\n") == 1
    assert fir("events").out == before


def test_sealing_a_live_batch_is_answered_with_the_danger_at_once(fir) -> None:
    """The caution stands where the decision is made, and the fact is kept all the same."""
    ran = fir("close", "fir", "tight-cap", "--at", "2026-03-01 12:00")
    assert ran.status == 0 and "danger" in ran.out and "airlock" in ran.out
    assert fir("check", "--at-least", "danger").status == 1
    undone = fir("close", "fir", "airlock")
    assert "no longer found: sealed-while-alive" in undone.out


def test_a_danger_can_be_hushed_for_a_day_at_most(fir) -> None:
    """A week's silence about a sealed ferment is not to be had."""
    fir("close", "fir", "tight-cap")
    ran = fir("hush", "fir", "sealed-while-alive", "--until", "2099-01-01")
    assert ran.status == 2 and "24 hours" in ran.err


def test_log_tells_what_it_understood_what_changed_and_answers_as_json(fir) -> None:
    """Echo: gravity corrected (20 Brix reads 1.07979 at 30 C and is 1.0829, ICUMSA), fall, stage, findings."""
    ran = fir("log", "fir", "1.0798", "30C", "swirled", "@2026-03-09")
    assert "read 1.0798 at 30 °C -> 1.083; hydrometer made for 20 °C, assumed" in ran.out
    assert "stage: lag -> primary" in ran.out and "alcohol about" in ran.out
    told = fir("log", "fir", "1.050", "20C", "@2026-03-12", "--json").json
    assert told["saved"][0]["gravity"] == {"value": 1.05, "scale": "sg", "sample_c": 20.0}
    assert set(told) == {"batch", "saved", "understood", "changed", "new_findings", "cleared"}


def test_a_note_is_kept_word_for_word_and_shown_harmless(fir) -> None:
    """Escape sequences are data: kept on disk as they are, drawn as signs on the terminal."""
    text = "pear \x1b[31m[bold]x[/bold]\x07 \u202edraob"
    assert fir("note", "fir", text).status == 0
    assert "\x1b" not in fir("show", "fir").out and "[bold]" in fir("show", "fir").out
    kept = [event for event in fir("show", "fir", "--json").json["story"] if event["kind"] == "noted"]
    assert kept[0]["note"] == text
    assert fir("note", "-", "new shelf").status == 0


def test_looking_back_sees_the_cellar_as_it_stood(fir) -> None:
    """A question asked of the past is answered with what was known then."""
    fir("log", "fir", "1.060", "20C", "@2026-03-09")
    then = fir("--now", "2026-03-05T00:00:00Z", "show", "fir", "--json").json
    assert len(then["readings"]) == 1
    assert len(fir("show", "fir", "--json").json["readings"]) == 2


def test_help_lists_every_command_and_each_has_its_own(fir) -> None:
    """Nobody reads a manual beside a jug."""
    from mustwatch.commands.parser import COMMANDS

    listing = fir("--help").out
    for name in COMMANDS:
        assert f"\n  {name} " in listing
        if name != "round":
            assert fir(name, "--help").status == 0


def test_every_fact_command_answers_with_one_json_document(fir) -> None:
    """Stable keys for scripts; messages never on standard output."""
    for words in (
        ["check"],
        ["show", "fir"],
        ["rules"],
        ["outlook"],
        ["outlook", "fir"],
        ["verify"],
        ["explain", "stalled"],
    ):
        ran = fir(*words, "--json")
        assert isinstance(ran.json, dict), words


def test_a_fix_names_the_keys_there_are_and_tells_what_it_changed(fir) -> None:
    """A misspelt key would be kept for ever and change nothing; a right one may end or begin a finding."""
    fir("close", "fir", "tight-cap")
    last = json.loads(fir("events", "--batch", "fir").out.splitlines()[-1])["id"]
    ran = fir("fix", last, "closre=airlock")
    assert ran.status == 2 and "closure" in ran.err and ran.err.count("\n") == 1
    assert "no longer found: sealed-while-alive" in fir("fix", last, "closure=airlock").out
    assert "sealed-while-alive" in fir("undo").out
