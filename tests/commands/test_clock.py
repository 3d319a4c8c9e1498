"""A clock that runs behind hides nothing: what is written down has happened, whatever the clock says."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

TRUE = datetime(2026, 3, 4, 12, tzinfo=UTC)


@pytest.fixture
def clock(monkeypatch):
    """Sets this machine's clock."""

    def to(at: datetime) -> None:
        monkeypatch.setattr("mustwatch.__main__._clock", lambda: at)

    return to


@pytest.fixture
def sealed(run, clock):
    """A live ferment under a cap screwed tight just now; each entry written when it happened."""
    for hours, words in (
        (-74, ("init",)),
        (-73, ("begin", "fir", "--honey", "1.3 kg", "--volume", "4.5 l", "--vessel", "jug 5 l")),
        (-72, ("log", "fir", "1.092", "20C")),
        (-71, ("pitch", "fir", "--class", "ale", "--tolerance", "12")),
        (-70, ("close", "fir", "airlock")),
        (-48, ("log", "fir", "1.088", "20C")),
        (-4, ("log", "fir", "1.078", "20C")),
        (0, ("close", "fir", "tight-cap")),
    ):
        clock(TRUE + timedelta(hours=hours))
        assert run(*words).status == 0, words
    return run


def worst(ran) -> str:
    """The severity and the rule of the first finding."""
    first = ran.json["findings"][0]
    return f"{first['severity']} {first['rule']}"


def troubles(ran) -> list[str]:
    """What is wrong, by name."""
    return [one["what"] for one in ran.json["troubles"]]


@pytest.mark.parametrize("behind", [90, 3600, 6 * 86400, 30 * 86400, 20_000 * 86400], ids=str)
def test_a_danger_is_a_danger_with_the_clock_behind(sealed, clock, behind):
    """90 seconds, an hour, six days, a month, and a small computer that begins anew in 1971."""
    clock(TRUE + timedelta(minutes=1))
    right = sealed("check", "--json")
    assert worst(right) == "danger sealed-while-alive" and troubles(right) == []
    clock(TRUE - timedelta(seconds=behind))
    ran = sealed("check", "--json")
    assert (ran.status, worst(ran), troubles(ran)) == (1, worst(right), ["clock"])
    assert ran.json["now"] == TRUE.isoformat()
    text = sealed("check")
    assert text.status == 1 and "!! RECORD  cellar  clock" in text.out and "nothing to do" not in text.out
    assert "Set the clock" in text.out


@pytest.mark.parametrize(("behind", "told"), [(60, False), (61, True)])
def test_clocks_that_are_set_differ_by_a_minute_without_a_word(sealed, clock, behind, told):
    """Two machines of one cellar are never of the same second; the entry counts all the same."""
    clock(TRUE - timedelta(seconds=behind))
    ran = sealed("check", "--json")
    assert worst(ran) == "danger sealed-while-alive" and troubles(ran) == ["clock"] * told


def test_another_machine_whose_clock_is_behind_the_whole_cellar_sees_the_batch(sealed, clock, home, monkeypatch):
    """It has written nothing yet, and all that there is lies ahead of it."""
    monkeypatch.setenv("XDG_STATE_HOME", str(home / "other"))
    clock(TRUE - timedelta(days=5))
    ran = sealed("show", "fir")
    assert ran.status == 0 and "tight cap" in ran.out.replace("-", " ")
    assert "clock reads 27 Feb 12:00, but 7 entries lie ahead of it, the last of 4 Mar 12:00" in ran.err
    taken = sealed("begin", "fir", "--volume", "5 l")
    assert taken.status == 2 and "there is a batch fir already" in taken.err


def test_no_age_is_negative_with_the_clock_behind(sealed, clock):
    """What happened last happened just now at the latest."""
    clock(TRUE - timedelta(days=6))
    for words in (["show", "fir"], ["outlook", "fir"], ["check"]):
        out = sealed(*words).out
        assert "-" + "6 days" not in out and "in 6 days" not in out


def test_an_entry_is_taken_with_the_clock_behind_and_may_be_dated_by_the_record(sealed, clock):
    """What is said in the record's time is not to come."""
    clock(TRUE - timedelta(days=6))
    ran = sealed("note", "fir", "vented", "--at", "2026-03-04 11:00")
    assert ran.status == 0 and "clock reads" in ran.err
    assert sealed("note", "fir", "later", "--at", "2026-03-05 11:00").status == 2


def dated(year: int) -> datetime:
    """The true time of another year."""
    return TRUE.replace(year=year) + timedelta(minutes=5)


def test_a_date_from_years_ahead_ages_no_cellar(sealed, clock, home, monkeypatch):
    """One machine whose clock stood in 2062 wrote one line: a slip, and not the time."""
    state = home / "other"
    monkeypatch.setenv("XDG_STATE_HOME", str(state))
    clock(dated(2062))
    assert sealed("close", "fir", "airlock").status == 0
    clock(TRUE + timedelta(hours=1))
    ran = sealed("check", "--json")
    assert ran.json["now"] == (TRUE + timedelta(hours=1)).isoformat()
    # That machine noted by itself what it saw of the other's file, and that note is misdated as well.
    assert troubles(ran) == ["dated-ahead"]
    assert worst(ran) == "danger sealed-while-alive"
    assert "impossible-number" in str(ran.json["findings"])
    # What is written down since bears ids that tick on from 2062, and counts as ever.
    assert sealed("log", "fir", "1.070", "20C").status == 0
    clock(TRUE - timedelta(days=1))
    again = sealed("check", "--json")
    assert again.json["now"] == (TRUE + timedelta(hours=1)).isoformat()
    assert troubles(again) == ["clock", "dated-ahead"]


@pytest.mark.parametrize(("days", "believed"), [(400, True), (401, False)])
def test_an_entry_more_than_four_hundred_days_from_any_other_is_taken_for_a_slip(sealed, clock, days, believed):
    """In a cellar that is kept somebody writes something once a year."""
    last = TRUE + timedelta(days=days)
    clock(last)
    sealed("note", "fir", "a year on")
    clock(TRUE)
    assert sealed("check", "--json").json["now"] == (last if believed else TRUE).isoformat()


@pytest.mark.parametrize("event_id", [None, "foreign-1"])
def test_a_date_of_an_import_that_is_to_come_is_not_the_time(sealed, clock, tmp_path, event_id):
    """Its id was stamped when it was brought in; a foreign id tells nothing, and then the date is believed."""
    clock(TRUE + timedelta(hours=1))
    path = tmp_path / "in.jsonl"
    own = "" if event_id is None else f'"id":"{event_id}",'
    path.write_text(f'{{{own}"at":"2026-06-01T10:00:00Z","batch":"fir","kind":"closed","closure":"airlock"}}\n')
    assert sealed("import", str(path), "--ahead").status == 0
    ran = sealed("check", "--json")
    assert troubles(ran) == ["clock"] * (event_id is not None)
    assert worst(ran).startswith("danger" if event_id is None else "today")


def test_a_corrected_date_ends_it(sealed, clock):
    """The way back that is told leads back."""
    clock(TRUE - timedelta(days=6))
    back = sealed("check", "--json").json["troubles"][0]["way_back"]
    assert back.startswith("Set the clock. Where it is right, correct the date: `mustwatch fix ")
    for _ in range(9):
        found = sealed("check", "--json").json["troubles"]
        if not found:
            break
        ident = found[0]["way_back"].split("`")[1].split()[2]
        assert sealed("fix", ident, "at=2026-02-26 08:00").status == 0
    assert sealed("check", "--json").json["troubles"] == []
