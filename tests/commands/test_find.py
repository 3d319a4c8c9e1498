"""`find`: the keys of the contract, and lines that can be read."""

from __future__ import annotations


def test_json_has_the_keys_of_the_contract(fir) -> None:
    """The id is that of an entry `fix` can mend."""
    fir("note", "fir", "smells of pêche", "--at", "2026-03-05 10:00")
    (hit,) = fir("find", "PECHE", "--json").json["hits"]
    assert set(hit) == {"batch", "at", "id", "where", "text"}
    assert (hit["batch"], hit["where"], hit["text"]) == ("fir", "note", "smells of pêche")
    assert hit["id"] in fir("events", "--batch", "fir").out and hit["at"].startswith("2026-03-05T10:00")


def test_a_hit_is_a_line_with_its_day_its_batch_and_its_text(fir) -> None:
    """Enough to know whether it is the one."""
    fir("note", "fir", "smells of pear", "--at", "2026-03-05 10:00")
    ran = fir("--now", "2026-04-01T12:00:00Z", "find", "pear")
    assert "5 Mar" in ran.out and "fir  note: smells of pear" in ran.out and ran.out.endswith("1 hit\n")


def test_a_long_note_is_shown_from_near_the_word(fir) -> None:
    """The beginning of a long note says nothing of the hit; JSON has all of it."""
    text = "x" * 900 + " the pear " + "y" * 900
    fir("note", "fir", text)
    out = fir("find", "pear").out
    assert "pear" in out and len(out) < 600
    assert fir("find", "pear", "--json").json["hits"][0]["text"] == text


def test_nothing_found_is_said_and_is_no_failure(fir) -> None:
    """A script may ask; a blank is asked back."""
    ran = fir("find", "unicorn")
    assert (ran.status, ran.out) == (0, "nothing found\n") and fir("find", "unicorn", "--json").json["hits"] == []
    assert fir("find", " ").status == 2


def test_a_look_back_finds_only_what_was_there(fir) -> None:
    """As every command."""
    fir("note", "fir", "smells of pear", "--at", "2026-03-05 10:00")
    assert fir("--now", "2026-03-04T10:00:00Z", "find", "pear", "--json").json["hits"] == []


def test_what_is_found_cannot_act_on_the_terminal(fir) -> None:
    """A note may hold anything."""
    fir("note", "fir", "pear \x1b[2J\u202e")
    out = fir("find", "pear").out
    assert "\x1b" not in out and "<1b>[2J<202e>" in out
