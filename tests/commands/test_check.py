"""`check`: what it lists, what it hides, and with which status it ends."""

from __future__ import annotations

KEYS = {"rule", "batch", "severity", "says", "why", "do", "evidence", "missing", "clears_when", "look_again"}
SEALED = ("close", "fir", "tight-cap", "--at", "2026-03-04 09:00")


def sealed(fir):
    """Two readings of a live ferment, then a tight cap."""
    for words in (
        ("log", "fir", "1.088", "20C", "@2026-03-02", "09:00"),
        ("log", "fir", "1.078", "20C", "@2026-03-04", "08:00"),
        SEALED,
    ):
        assert fir(*words).status in (0, 1)
    return fir


def test_a_healthy_cellar_is_silent_and_ends_with_0(fir, home):
    """The quiet answer is an answer, and says what was looked at and when."""
    fir("log", "fir", "1.088", "20C", "@2026-03-02", "09:00")
    ran = fir("--now", "2026-03-02T12:00:00+00:00", "check")
    assert ran.status == 0
    assert " ".join(ran.out.split()) == f"{home / 'cellar'}, 2 Mar 2026 12:00: 1 batch, nothing to do"


def test_a_danger_ends_with_1_and_says_what_to_do(fir):
    """A script on a timer must be able to tell."""
    ran = sealed(fir)("--now", "2026-03-04T12:00:00+00:00", "check")
    assert ran.status == 1
    assert "!! DANGER  fir  sealed-while-alive" in ran.out
    assert "clears   when" in ran.out
    assert all(len(line) <= 80 for line in ran.out.splitlines())


def test_json_has_the_keys_of_the_contract(fir):
    """One document on standard output, stable keys, evidence that can be looked up."""
    ran = sealed(fir)("--now", "2026-03-04T12:00:00+00:00", "check", "--json")
    document = ran.json
    assert document["now"] == "2026-03-04T12:00:00+00:00"
    finding = document["findings"][0]
    assert set(finding) >= KEYS
    assert finding["rule"] == "sealed-while-alive" and finding["severity"] == "danger"
    assert isinstance(finding["do"], list) and finding["evidence"]


def test_at_least_lists_and_counts_only_these_and_worse(fir):
    """Asked for danger, a thing for today is no reason to ring."""
    fir("log", "fir", "1.088", "20C", "@2026-03-02", "09:00")
    later = ("--now", "2026-03-11T12:00:00+00:00", "check", "--json", "--at-least")
    danger, note = fir(*later, "danger"), fir(*later, "note")
    assert (danger.status, danger.json["findings"]) == (0, [])
    assert "1 batch, nothing at danger or worse" in " ".join(fir(*later[:3], "--at-least", "danger").out.split())
    assert note.status == 1 and note.json["findings"]


def test_an_unknown_severity_is_bad_use(fir):
    """One line and status 2, never a traceback."""
    ran = fir("check", "--at-least", "loud")
    assert ran.status == 2 and len(ran.err.splitlines()) == 1


def test_a_hushed_finding_is_counted_apart_and_rings_no_more(fir):
    """What sleeps is not gone; JSON tells until when."""
    fir("log", "fir", "1.088", "20C", "@2026-03-02", "09:00")
    assert fir("hush", "fir", "reading-overdue", "--until", "2099-01-01").status == 0
    ran = fir("check", "--json", "--at-least", "note")
    assert "reading-overdue" not in [finding["rule"] for finding in ran.json["findings"]]
    assert ran.json["hushed"][0]["hushed_until"].startswith("2099-01-01")
    assert "hushed; `check --json` lists" in fir("check").out


def test_a_threshold_out_of_its_bounds_is_named(fir, home):
    """A number nobody could mean is not used: the defaults count, and that is told."""
    settings = home / "cellar" / "cellar.toml"
    settings.write_text(settings.read_text("utf-8") + "\n[thresholds.gravity-rose]\npoints = 400\n", "utf-8")
    ran = fir("check")
    assert ran.status == 1
    assert "thresholds.gravity-rose.points must be 2 to 20 points, got 400" in " ".join(ran.out.split())


def test_the_head_counts_what_follows_and_leaves_ended_batches_out(fir):
    """Whoever hears the first line alone knows whether to go on listening."""
    fir("begin", "elm", "--honey", "1 kg", "--volume", "4 l")
    fir("end", "elm", "dumped")
    ran = sealed(fir)("--now", "2026-03-04T12:00:00+00:00", "check")
    head, _, rest = ran.out.partition("\n\n")
    shown = sum(line[:2] in ("!!", "! ", "~ ", ". ") for line in rest.splitlines())
    assert f"1 batch, {shown} finding" in " ".join(head.split())


def test_a_trouble_with_the_record_is_never_called_nothing_to_do(fir, home):
    """What is missing from the record may be what matters."""
    settings = home / "cellar" / "cellar.toml"
    settings.write_text("[thresholds\n", "utf-8")
    head = " ".join(fir("check").out.partition("\n\n")[0].split())
    assert "1 trouble with the record" in head and "nothing" not in head


def test_the_head_calls_the_cellar_by_its_name_where_it_has_one(run):
    """Of two cellars in one house the path says less."""
    from test_sample_cellar import SAMPLE

    ran = run("--cellar", str(SAMPLE), "check", "--at-least", "danger")
    assert ran.out.startswith("Under the stairs, 14 May 2026 18:30: 11 batches, 2 findings at danger or worse")
