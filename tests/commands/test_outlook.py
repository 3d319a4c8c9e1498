"""`outlook`: for one batch and for all, in words and as JSON."""

from __future__ import annotations

import pytest

KEYS = {
    "batch",
    "now_sg",
    "final_sg",
    "done_on",
    "course",
    "state",
    "stall_probability",
    "decide_on",
    "gas_bar_if_sealed",
}


@pytest.fixture
def falling(fir):
    """The batch of the cellar, read twice more."""
    assert fir("log", "fir", "1.070", "20C", "@2026-03-05").status == 0
    assert fir("log", "fir", "1.048", "20C", "@2026-03-09").status == 0
    return fir


def test_all_batches_come_as_one_document(falling) -> None:
    """Keys as the contract has them, percentiles in order."""
    document = falling("--now", "2026-03-09T18:00:00Z", "outlook", "--json").json
    (one,) = document["batches"]
    assert set(one) >= KEYS
    assert one["batch"] == "fir" and one["state"] == "moving"
    assert all(m["p10"] <= m["p50"] <= m["p90"] for m in one["course"])
    assert one["final_sg"]["p10"] < one["final_sg"]["p50"] < one["now_sg"]["p50"]


def test_one_batch_is_a_document_of_its_own(falling) -> None:
    """The tag picks it."""
    one = falling("--now", "2026-03-09T18:00:00Z", "outlook", "fir", "--json").json
    assert one["batch"] == "fir"


def test_the_text_fits_eighty_columns_and_says_how_long_it_takes(falling) -> None:
    """Over a slow line, on a narrow terminal."""
    for words in (["outlook"], ["outlook", "fir"]):
        ran = falling("--now", "2026-03-09T18:00:00Z", *words)
        assert ran.status == 0
        assert max(len(line) for line in ran.out.splitlines()) < 80
        assert "to go" in ran.out


def test_a_batch_not_read_yet_says_what_is_missing(run) -> None:
    """No course is no error."""
    run("init")
    run("begin", "new", "--honey", "1 kg", "--volume", "4 l")
    ran = run("outlook", "new")
    assert ran.status == 0
    assert "not pitched yet" in ran.out
    assert run("outlook", "--json").json["batches"][0]["course"] == []


def test_an_unknown_tag_is_one_line_and_status_2(falling) -> None:
    """Bad use, said in a line."""
    ran = falling("outlook", "nobody")
    assert ran.status == 2
    assert len(ran.err.strip().splitlines()) == 1


def test_a_cellar_without_batches_says_so(run) -> None:
    """An empty answer looks like a fault."""
    run("init")
    assert "no batch" in run("outlook").out


def test_the_model_is_explained_on_one_page(run) -> None:
    """`explain outlook` needs no cellar."""
    ran = run("explain", "outlook")
    assert ran.status == 0
    assert "where a batch is heading" in ran.out


@pytest.mark.parametrize("words", ["warmed to 24C", "cooled to 8C", "fed 1g DAP", "sealed now", "sweetened 10 points"])
def test_what_would_be_is_shown_beside_what_is_and_nothing_is_saved(falling, words) -> None:
    """Every line fits, it says that nothing was saved, and the ledger is as it was."""
    events = falling("events").out
    ran = falling("outlook", "fir", "--if", words)
    assert ran.status == 0
    assert "supposed, not saved" in ran.out and "as it stands" in ran.out
    assert falling("events").out == events


def test_what_would_be_comes_as_a_document_too(falling) -> None:
    """The keys of an outlook, and what it would be without."""
    one = falling("outlook", "fir", "--if", "sweetened 10 points", "--json").json
    assert set(one) >= KEYS | {"supposed", "as_it_stands"}
    assert one["now_sg"]["p50"] > one["as_it_stands"]["now_sg"]["p50"] + 0.005


def test_a_seal_supposed_on_a_live_batch_tells_the_danger(falling) -> None:
    """What the rules would say is said before it is done."""
    assert "danger" in falling("outlook", "fir", "--if", "sealed now").out


@pytest.mark.parametrize("words", [("fir", "--if", "sung to"), ("--if", "sealed now")])
def test_a_supposition_that_cannot_be_is_one_line_and_status_2(falling, words) -> None:
    """Not understood, or of no batch."""
    ran = falling("outlook", *words)
    assert ran.status == 2
    assert len(ran.err.strip().splitlines()) == 1
