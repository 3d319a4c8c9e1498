"""What the answers to a deed mean: the events, the words, the faults and the cautions, without any shell."""

import pytest
from screens.small_cellar import NOW, ago, batch, numbered

from mustwatch.cellar.fold import fold
from mustwatch.deeds.catalogue import DEEDS, deed_named
from mustwatch.deeds.deed import Ground, understood
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.settings import Settings

FERMENTING = [1.100, 1.085, 1.070, 1.055]
SETTINGS = Settings()


def ground(events: list, settings: Settings = SETTINGS) -> Ground:
    """The only batch of the events, as a form sees it."""
    cellar = fold(numbered(events), settings, NOW)
    return Ground(next(iter(cellar.batches)), cellar, NOW, scaled=True)


def meant(name: str, settings: Settings = SETTINGS, **texts: str):
    """What these texts mean in a form for a fermenting batch."""
    return understood(deed_named(name), texts, ground(batch("quiet-1", 9, FERMENTING), settings))


def test_every_deed_can_be_given_its_time_and_a_note():
    """What was done yesterday is written down today; a hush begins when it is said, a note is itself one."""
    for name in DEEDS:
        fields = [field.name for field in deed_named(name).fields]
        assert name == "hush" or "when" in fields, name
        assert name == "note" or fields[-1] == "note", name


@pytest.mark.parametrize(
    ("form", "texts", "field", "says"),
    [
        ("pitch", {"yeast": "a", "tolerance": "50"}, "tolerance", "must be at most 30"),
        ("pitch", {"yeast": "a", "tolerance": "high"}, "tolerance", "write it like 14"),
        ("pitch", {"yeast": "a", "must": "68"}, "must", "which scale"),
        ("pitch", {"yeast": "a", "amount": "5"}, "amount", "no unit of mass"),
        ("pitch", {"yeast": " "}, "yeast", "which yeast"),
        ("pitch", {"yeast": "a", "when": "2030-01-01"}, "when", "still to come"),
        ("add", {"amount": "5 g"}, "what", "added what"),
        ("add", {"what": "honey", "amount": "2 gal"}, "amount", "differ by a fifth"),
        ("add", {"what": "nutrient", "nitrogen": "5000"}, "nitrogen", "mg a gram"),
        ("rack", {"into": "5 l"}, "into", "kind and size"),
        ("rack", {"into": "jug 5 l", "volume": "9 l"}, "volume", "do not go into a jug"),
        ("rack", {"volume": "0 l"}, "volume", "more than 0"),
        ("bottle", {"style": "still"}, "lot1", "how many of which bottles"),
        ("bottle", {"lot2": "6 x 330ml jar"}, "lot2", "neither a bottle"),
        ("bottle", {"lot1": "6 x 330ml beer", "priming": "a spoon"}, "priming", "weigh it"),
        ("close", {"liquid": "water"}, "closure", "which closure"),
    ],
)
def test_a_fault_names_its_field_and_what_would_be_right(form, texts, field, says):
    """Nothing is saved on a doubt, and the line says how to write it."""
    found = meant(form, **texts)
    assert found.events == ()
    assert says in found.faults[field]


def test_several_faults_are_all_told():
    """One look mends them all."""
    assert set(meant("pitch", yeast="a", amount="5", must="68").faults) == {"amount", "must"}


def test_a_bare_temperature_is_in_the_cellars_own_scale():
    """68 in a Fahrenheit cellar is 20 degrees Celsius, by the definition of the scales."""
    found = meant("pitch", Settings(temperature="F"), yeast="a", must="68")
    assert found.events[0].must_c == 20
    assert "must 68 °F" in found.words[0]


def test_ill_text_cannot_reach_the_screen_as_it_is():
    """What is typed may have been pasted from anywhere."""
    found = meant("add", what="honey\x1b[31m", amount="1 kg")
    assert "\x1b" not in "".join(found.words)


@pytest.mark.parametrize(
    ("form", "texts", "says"),
    [
        ("add", {"what": "potassium metabisulfite"}, "Local law"),
        ("add", {"what": "nutrient"}, "foam over"),
        ("add", {"what": "honey"}, "ferment again"),
        ("rack", {}, "Never lift or carry"),
        ("rack", {"closure": "solid-bung"}, "Sealed: no gas gets out"),
        ("bottle", {}, "glass bursts"),
        ("close", {"closure": "swing-top"}, "glass can burst"),
    ],
)
def test_the_caution_stands_where_it_is_decided(form, texts, says):
    """Also before anything else is typed."""
    assert says in " ".join(meant(form, **texts).cautions)


def test_a_vented_closure_needs_no_caution():
    """A warning at everything warns of nothing."""
    assert meant("close", closure="airlock").cautions == ()


def test_a_form_starts_with_what_is_known_and_with_what_a_finding_asks():
    """No word is typed twice; what cannot be known is left blank."""
    own = ground(batch("quiet-1", 9, FERMENTING))

    def known(name, prefill="", of=own):
        return {key: text for key, text in deed_named(name).first(of, prefill).items() if text}

    assert known("close", "blow-off") == {"closure": "blow-off"}
    assert known("close") == {"closure": "airlock"}
    assert known("add", "sulfite") == {"what": "sulfite"}
    assert known("rack") == {"into": "jug 5 L"}
    assert known("bottle") == {"sugar": "sucrose"}
    assert known("pitch") == {"class": "unknown"}
    warm = ground([*batch("quiet-1", 9, FERMENTING), draft("read", ago(0.02), "quiet-1", must_c=21.5)])
    assert known("pitch", of=warm)["must"].startswith("21.5")
    sparkling = ground([draft("mixed", ago(3), "new-1", target={"finish": "sparkling"})])
    assert known("bottle", of=sparkling) == {"style": "sparkling", "sugar": "sucrose"}


def test_what_is_no_temperature_is_refused_as_one():
    """The line beside the field names what belongs there."""
    for text in ("yesterday 99:00", "warm", "5 g"):
        assert meant("pitch", yeast="dry", must=text).faults["must"] == f"{text} is no temperature; write 21C or 70F"
