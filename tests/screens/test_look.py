"""The look of the round: what is wrong with the record is told there as everywhere."""

from __future__ import annotations

from datetime import timedelta

from screens.small_cellar import NOW, ago, looked, made, usual
from screens.text import text_of

from mustwatch.ledger.codec import parse
from mustwatch.ledger.drafts import draft
from mustwatch.screens.round.sections import opening_sections
from mustwatch.screens.round.top import top_line


def look_at(tmp_path, *more):
    """A look at the small cellar with more entries in it."""
    return looked(made(tmp_path / "cellar", [*usual(), *more]))


def opening(look, tag):
    """What the pane of a batch opens with, as one line of text."""
    lines = [line for _, body in opening_sections(look, look.batch(tag), 70) for line in body]
    return " ".join(text_of(lines).split())


def test_a_correction_that_changes_nothing_is_in_the_top_line_and_with_its_batch(tmp_path):
    """Who corrected it believes it corrected."""
    look = look_at(tmp_path, draft("amended", ago(0), "quiet-1", target="nowhere", set={"ph": 3.4}))
    says = "A correction written on 14 May changes nothing: the entry it points at is not here."
    assert look.trouble == f"1 trouble, see `mustwatch verify`. quiet-1: {says}"
    assert f"!! record: {says}" in opening(look, "quiet-1") and "record:" not in opening(look, "quiet-2")


def test_what_is_only_odd_stands_with_its_batch_and_leaves_the_top_line_alone(tmp_path):
    """An alarm that nobody need answer would teach to overlook the others."""
    dreamt = parse(b'{"v":1,"id":"","at":"2026-05-14T09:00:00Z","batch":"quiet-1","kind":"dreamt"}')
    look = look_at(tmp_path, dreamt, draft("swirled", ago(30), "quiet-2"))
    assert look.trouble == ""
    assert "-- record: 1 entry of the kind 'dreamt'" in opening(look, "quiet-1")
    assert "-- record: 1 entry dated before it was mixed on 6 May" in opening(look, "quiet-2")


def test_a_clock_that_is_behind_is_named_in_the_top_line_and_hides_no_closure(tmp_path):
    """Its entries count all the same, and time is what the newest of them says."""
    path = made(tmp_path / "cellar", usual())
    look = looked(path, clock=lambda: NOW - timedelta(days=6))
    assert look.ails == "clock" and look.trouble.startswith("1 trouble, see `mustwatch verify`. This computer's clock")
    assert "! clock" in text_of([top_line(look, 80)])
    assert "sealed-while-alive" in [one.rule for one in look.findings]


def test_broken_settings_are_named_in_the_top_line_and_mended_ones_count_at_the_next_look(tmp_path):
    """The round opens on the defaults, and says so."""
    path = made(tmp_path / "cellar", usual(), settings="<<<<<<< HEAD\n[cellar]\n")
    look = looked(path)
    assert "! settings" in text_of([top_line(look, 80)]) and "cellar.toml is not TOML" in look.trouble
    assert look.findings
    (path / "cellar.toml").write_text('[cellar]\nname = "mended"\n', "utf-8")
    look.again()
    assert (look.trouble, look.settings.name) == ("", "mended")


def test_of_a_batch_only_the_newest_forecast_is_kept(tmp_path):
    """A round that stays open would grow with each entry."""
    look = look_at(tmp_path)
    for days in (0.5, 0.4, 0.3):
        batch = look.batch("quiet-1")
        assert look.make_outlook(batch) is look.known_outlook(batch) is not None
        look.save([draft("swirled", ago(days), "quiet-1")])
        assert look.known_outlook(look.batch("quiet-1")) is None
    assert len(look._outlooks) == 1
