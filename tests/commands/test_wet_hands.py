"""Commands typed in a hurry: usual spellings are taken, slips are named, and the answer says what was understood."""

from __future__ import annotations

import pytest

from mustwatch.commands.parser import COMMANDS


def _last(run) -> dict:
    return run("show", "fir", "--json").json["story"][-1]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["pitch", "fir", "--class", "Ale", "--tolerance", "14 %", "--range", "15C to 24C"], "14 % vol, made for"),
        (["pitch", "fir", "--must", "68F", "--amount", "5g"], "5 g, must 20 °C"),
        (["add", "fir", "2", "g", "nutrient"], "added 2 g nutrient"),
        (["add", "fir", "5g nutrient"], "added 5 g nutrient"),
        (["add", "fir", "oak", "chips", "8", "g"], "added 8 g oak chips"),
        (["add", "fir", "300", "g", "of", "heather", "honey"], "added 300 g heather honey"),
        (["add", "fir", "honey", "3", "lb", "4", "oz"], "added 1.474 kg honey"),
        (["add", "fir", "nutrient", "1g", "--nitrogen", "21%"], "210 mg nitrogen a gram"),
        (["add", "fir", "oak", "8g", "--taste-by", "2 weeks"], "added 8 g oak, taste by "),
        (["close", "FIR", "Solid", "Bung"], "closed with solid-bung"),
        (["close", "fir", "airlock", "--liquid", "vodka", "--fit", "loose"], "airlock (vented), vodka, fit: loose"),
        (["rack", "fir", "--into", "5 l glass jug", "--lees", "0.2 l", "--closure", "air lock"], "lees 200 ml; closed"),
        (["move", "fir", "under", "the", "stairs"], "moved to under the stairs"),
        (["remove", "fir", "oak", "chips"], "took out oak chips"),
        (["bottle", "fir", "6", "x", "500", "ml", "Beer", "Crown", "Cap"], "6 x 500 ml beer crown-cap"),
        (["bottle", "fir", "6 x 33cl, beer", "3x750ml still-wine cork"], "3 x 750 ml still-wine cork"),
        (["taste", "fir", "--score", "8/10", "--look", "clear"], "look: clear; 8 of 10"),
        (["taste", "fir", "--score", "7,5"], "7.5 of 10"),
        (["instrument", "g", "pH-meter"], "pH meter"),
        (["instrument", "g", "Hydrometer", "--water", "1,002"], "-0.002"),
        (["begin", "Elm", "--honey", "3 lb 4 oz lime", "--target", "22Bx"], "lime; volume not recorded; planned 1.092"),
        (["add", "fir", "fruit", "1 kg", "--at", "yesterday", "--note", "frozen"], "note: frozen; when: "),
        (["check", "--at-least", "Danger"], ""),
        (["explain", "Stalled"], "stalled"),
    ],
)  # fmt: skip
def test_a_usual_spelling_is_taken_and_said_back(fir, words: list[str], says: str) -> None:
    """One meaning only, so no question; the answer holds every fact that was given."""
    ran = fir(*words)
    assert (ran.status, ran.err) == (0, "") and says in ran.out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["begin", "elm", "--target", "9"], "which scale"),
        (["begin", "elm", "--target", "1.3"], "no must is there"),
        (["begin", "elm", "--target", "strong"], "write it like 1.090"),
        (["begin", "elm", "--target", "1.05", "--target-end", "1.1"], "which is right"),
        (["begin", "elm", "--honey", "0 kg"], "nothing at all"),
        (["pitch", "fir", "--range", ""], "empty"),
        (["pitch", "fir", "--tolerance", "strong"], "no number"),
        (["add", "fir", "nutrient", "1g", "--nitrogen", "5000"], "mg a gram"),
        (["add", "fir", "nutrient", "2", "tsp"], "weigh it"),
        (["add", "fir"], "required: WHAT (see"),
        (["add", "fir", "nutrient", "0g"], "nothing at all"),
        (["close", "fir", "bung"], "is no closure; one of: airlock"),
        (["close", "fir", "airlock", "--liquid", ""], "empty"),
        (["bottle", "fir", "6 x 330 l beer"], "330 l a bottle"),
        (["bottle", "fir", "9999 x 500ml beer"], "which is right"),
        (["bottle", "fir", "6 x 500ml beer", "--rating", "60"], "is it in psi"),
        (["rack", "fir", "--volume", "45 l"], "which is right"),
        (["take", "fir", "one"], "no count of bottles"),
        (["instrument", "g", "hydrometer", "--offset", "5"], "right unit"),
        (["instrument", "g", "hydrometer", "--division", "-1"], "above 0"),
        (["hush", "fir", "stalled", "--until", "tomorrow", "--at", "yesterday"], "not understood: --at"),
        (["hush", "fir", "stalled", "--until", "soon"], "found nothing"),
        (["check", "--now", "2026-05-01"], "--now goes before the command"),
        (["show", "fir", "--cellar=x"], "--cellar goes before the command"),
        (["show", "fir", "elm"], "mustwatch show --help"),
        (["brew", "fir"], "there is no command 'brew' (see"),
        (["lgo", "fir"], "did you mean log?"),
        (["--cellar", "", "check"], "name a folder"),
        (["backup", ""], "name a folder"),
        (["--now", "9999-12-31", "check"], "the year must be"),
        (["--now", "0001-01-01", "check"], "the year must be"),
    ],
)
def test_a_slip_is_named_in_one_line_and_saves_nothing(fir, words: list[str], says: str) -> None:
    """The line says what is wrong or what would be right."""
    before = fir("events").out
    ran = fir(*words)
    assert (ran.status, ran.out) == (2, "") and says in ran.err and ran.err.count("\n") == 1
    assert fir("events").out == before


def test_a_burst_bottle_was_not_given_away(fir) -> None:
    """One of the two is a slip, and the danger hangs on it."""
    fir("bottle", "fir", "6 x 500 ml beer crown-cap")
    ran = fir("take", "fir", "--burst", "--why", "given")
    assert ran.status == 2 and "which is right" in ran.err


def test_a_danger_can_be_hushed_by_the_hour(fir) -> None:
    """A day at most, so that hours are what one names."""
    fir("close", "fir", "tight-cap")
    assert fir("hush", "fir", "sealed-while-alive", "--until", "2 hours").status == 0


def test_a_faulty_key_of_the_settings_cannot_act_on_the_terminal(fir, home) -> None:
    """TOML may write an escape in a key."""
    (home / "cellar" / "cellar.toml").write_text('[cellar]\n"\\u001b[31m" = 1\n', encoding="utf-8")
    ran = fir("check")
    assert ran.status == 1 and "<1b>" in ran.out and "\x1b" not in ran.out + ran.err


@pytest.mark.parametrize("text", [b"\xff", b"[cellar]\npinned = 9999-12-31T00:00:00Z", b"[places.x]\nm3 = inf"])
def test_settings_that_cannot_be_are_told_in_plain_words(fir, home, text: bytes) -> None:
    """By the bench as well, which reads them by itself, and rests a calculation on them."""
    (home / "cellar" / "cellar.toml").write_bytes(text)
    for words, status in ((["check"], 1), (["bench", "must", "honey 1 kg"], 2)):
        ran = fir(*words)
        told = ran.out + ran.err
        assert ran.status == status and "cellar.toml" in told and "codec" not in told and "fault of" not in told


def test_undo_names_what_was_saved_with_it(fir) -> None:
    """One line of log was three entries; taking back the last left the reading standing unsaid."""
    fir("log", "fir", "1.060", "20C", "swirled", "bubbling")
    assert "still there: looked: airlock bubbling" in fir("undo").out
    assert "still there: read 1.060" in fir("undo").out
    assert "still there" not in fir("undo").out


def test_undo_of_a_correction_says_what_it_had_changed(fir) -> None:
    """An id alone tells nobody."""
    fir("log", "fir", "1.060", "20C")
    fir("fix", _last(fir)["id"], "gravity.value=1.062")
    assert "corrected" in (said := fir("undo").out) and ": gravity.value=1.062" in said


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ("gravity.value=1,062", "now read 1.062"),
        ("gravity=1062", "now read 1.062"),
        ("gravity.value=15Bx", "now read 15 Bx"),
        ("gravity.sample_c=70F", "1.060 at 21.1 °C"),
        ("ph=3,7", "pH 3.7"),
        ("at=yesterday", " 12:00\n"),
        ("note=2026", '"2026"'),
    ],
)
def test_a_correction_is_read_as_the_entry_would_be(fir, change: str, says: str) -> None:
    """The same figures, signs and times; a bare figure is in the key's own unit."""
    fir("log", "fir", "1.060", "20C", "pH3.6")
    ran = fir("fix", _last(fir)["id"], change)
    assert ran.status == 0 and says in ran.out


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ("gravity.value=5", "no must is at 5.000"),
        ("gravity.value=1e999", "no gravity"),
        ("gravity.foo=1", "gravity.foo is nothing that a read holds"),
        ("at=2099-01-01", "still to come"),
        ("batch=elm", "no batch 'elm'"),
        ("batch=A B", "no batch"),
        ("must_c=warm", "must be a number, got 'warm'"),
    ],
)
def test_a_correction_that_no_entry_could_be_is_refused(fir, change: str, says: str) -> None:
    """`batch=A B` once put an entry where no command could reach it."""
    fir("log", "fir", "1.060", "20C")
    before = fir("events").out
    ran = fir("fix", _last(fir)["id"], change)
    assert (ran.status, ran.out) == (2, "") and says in ran.err
    assert fir("events").out == before


def test_a_figure_out_of_range_in_a_file_is_told_in_plain_words(fir, home) -> None:
    """Not in those of the format's checker."""
    (home / "r.csv").write_text("batch,at,must_c\nfir,2026-05-01,999\n", encoding="utf-8")
    assert "must be at most 130" in fir("import", str(home / "r.csv")).err
    (home / "r.jsonl").write_text('{"batch":"fir","at":"2026-05-01","kind":"noted","note":"x"}\n', encoding="utf-8")
    assert "needs its offset" in fir("import", str(home / "r.jsonl")).err


@pytest.mark.parametrize("name", [name for name in COMMANDS if name != "log"])
def test_every_command_says_what_it_does(run, name: str) -> None:
    """Help that lists options alone leaves the question open."""
    text = run(name, "--help").out
    about = text.split("\n\n")[1]
    assert not about.startswith(("options:", "positional")) and "Pure" not in text


@pytest.mark.parametrize(
    "line",
    ["begin elm", "pitch fir", "close fir airlock", "log fir 1.05", "note fir x", "add fir nutrient", "end fir drunk",
     "move fir shed", "instrument g hydrometer", "rack fir", "bottle fir 6x500ml", "take fir", "taste fir --score 5",
     "remove fir fruit", "hush fir stalled --until tomorrow", "undo", "fix abcd note=x"],
)  # fmt: skip
def test_looking_back_is_read_only_whatever_was_there_then(fir, line: str) -> None:
    """Before the batch was begun too: that it is not there yet is not what is wrong."""
    before = fir("events").out
    ran = fir("--now", "2020-01-01T00:00:00Z", *line.split())
    assert (ran.status, ran.out) == (2, "") and "read-only" in ran.err
    assert fir("events").out == before
