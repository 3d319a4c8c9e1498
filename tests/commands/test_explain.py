"""`explain RULE`: one rule's page."""

from __future__ import annotations


def test_a_page_has_its_four_headings_and_fits_80_columns(run):
    """The page is the only manual."""
    ran = run("explain", "sealed-while-alive")
    assert ran.status == 0
    for heading in ("What it looks for", "Why it matters", "What to do", "Source"):
        assert heading in ran.out
    assert max(len(line) for line in ran.out.splitlines()) <= 80


def test_a_misspelt_rule_is_answered_with_its_neighbours(run):
    """Status 2 and one line."""
    ran = run("explain", "staled")
    assert ran.status == 2 and "stalled" in ran.err and not ran.out


def test_a_page_shows_the_numbers_of_this_cellar(fir, home):
    """What the cellar has set stands beside the default."""
    settings = home / "cellar" / "cellar.toml"
    settings.write_text(settings.read_text("utf-8") + "\n[thresholds.gravity-rose]\npoints = 4\n", "utf-8")
    assert "points = 3 points, here 4 (2 to 20)" in fir("explain", "gravity-rose").out


def test_every_page_can_be_shown(run):
    """All of them, as text and as JSON."""
    from mustwatch.rules.catalogue import RULES

    for module in RULES:
        ran = run("explain", module.RULE.name, "--json")
        assert ran.status == 0 and ran.json["rule"] == module.RULE.name


def test_what_is_normal_has_its_pages_too(run):
    """Rafts, rings, still airlocks, lees, murk: an answer, not an alarm."""
    from mustwatch.rules.normal import NORMAL_PAGES

    for name in NORMAL_PAGES:
        assert "Why it is normal" in run("explain", name).out
    assert run("explain", "rafts", "--json").json["page"] == "rafts"
    assert "rafts" in run("explain", "raft").err


def test_a_procedure_has_its_page_too(run):
    """A finding of a few lines is too short for a day's work."""
    shown = run("explain", "restart-a-stall")
    assert "0.5 g of dry yeast" in shown.out and "When to give up" in shown.out
    assert "restart-a-stall" in run("rules").out


def test_a_batch_on_which_rafts_were_seen_leads_to_their_page(fir):
    """The way from what was noted to why it is normal."""
    fir("log", "fir", "rafts", "bubbling")
    assert "explain rafts" in fir("show", "fir").out
