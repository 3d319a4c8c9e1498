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
