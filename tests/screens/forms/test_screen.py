"""The forms by keyboard: what the keys record, what is said before, and that nothing typed is lost."""

import pytest
from screens.small_cellar import NOW, SIZES, ago, batch, made, opened, played, recorded, shown, typed, usual, whole

from mustwatch.ledger.drafts import draft
from mustwatch.screens.forms.screen import FormScreen
from mustwatch.screens.pane import Pane
from mustwatch.screens.round.screen import RoundScreen

FERMENTING = [1.100, 1.085, 1.070, 1.055]
RESTING = [1.100, 1.040, 1.004, 0.998, 0.998, 0.998, 0.998]


@pytest.fixture
def cellar(tmp_path):
    """One batch that ferments quietly."""
    return made(tmp_path / "cellar", batch("quiet-1", 9, FERMENTING))


@pytest.fixture
def count(cellar):
    """How many events it holds at first."""
    return len(recorded(cellar, 0))


async def filled(pilot, texts: list[str]) -> None:
    """Types each text into the next field; an empty one leaves it as it is."""
    for text in texts:
        await typed(pilot, text)
        await pilot.press("tab")
    await pilot.pause(0.4)


@pytest.mark.parametrize("size", SIZES)
def test_the_yeast_is_written_down_with_all_that_is_known_of_it(tmp_path, size):
    """Name, class, tolerance, amount, warmth, time and note reach the ledger as typed."""
    events = batch("young-1", 1, [1.100, 1.100])[:2]
    cellar = made(tmp_path / "cellar", events)
    count = len(recorded(cellar, 0))
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("y")
        await pilot.pause()
        await filled(pilot, ["dry packet", "w", "14", "", "5 g", "68F", "yesterday 21:00", "rehydrated"])
        text = " ".join(shown(app, "#form-told").split())
        assert "pitched dry packet (white-wine), 5 g" in text
        assert "bears 14 % vol" in text and "must 20 C" in text.replace("°", "")
        assert recorded(cellar, count) == []
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert isinstance(app.screen, RoundScreen)
        assert "saved young-1" in shown(app, "#says")

    played(app, play, size)
    (event,) = recorded(cellar, count)
    assert (event.kind, event.batch, event.g, event.must_c) == ("pitched", "young-1", 5, 20)
    assert (event.yeast.label, event.yeast.yeast_class, event.yeast.tolerance_abv) == ("dry packet", "white-wine", 14)
    assert (event.note, event.at.isoformat()) == ("rehydrated", "2026-05-13T21:00:00+02:00")
    assert event.model_extra == {"typed": "68F"}


@pytest.mark.parametrize("size", SIZES)
def test_an_addition_takes_its_kind_from_its_name_and_its_nitrogen_from_the_label(cellar, count, size):
    """The rules count nitrogen: what the label says must not get lost."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("i")
        await pilot.pause()
        await filled(pilot, ["yeast nutrient", "", "2 g", "120"])
        text = " ".join(shown(app, "#form-told").split())
        assert "added 2 g yeast nutrient, 120 mg nitrogen a gram" in text
        assert "can foam over" in " ".join(shown(app, "#form-cautions").split())
        await pilot.press("ctrl+s")
        await pilot.pause()

    played(app, play, size)
    (event,) = recorded(cellar, count)
    assert (event.kind, event.what, event.category) == ("added", "yeast nutrient", "nutrient")
    assert (event.g, event.nitrogen_mg_per_g, event.at) == (2, 120, NOW)


@pytest.mark.parametrize("size", SIZES)
def test_a_racking_records_the_vessel_the_volumes_and_the_closure(cellar, count, size):
    """Two events, one visit; the caution about glass stands over the form."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("m")
        await pilot.pause()
        assert "Never lift or carry a full or leaking glass vessel" in " ".join(whole(app).split())
        assert "low in closed rooms" in " ".join(whole(app).split())
        await filled(pilot, ["4.2 l", "300 ml", "200 ml"])
        assert "closure NOT KNOWN" in " ".join(shown(app, "#form-told").split())
        await pilot.press("a")
        await pilot.press("ctrl+s")
        await pilot.pause()

    played(app, play, size)
    racked, closed = recorded(cellar, count)
    assert (racked.kind, racked.vessel.kind, racked.vessel.capacity_l) == ("racked", "jug", 5)
    assert (racked.volume_l, racked.lees_l, racked.headspace_l) == (4.2, 0.3, 0.2)
    assert (closed.kind, closed.closure, closed.at) == ("closed", "airlock", racked.at)


@pytest.mark.parametrize("size", SIZES)
def test_bottling_what_still_ferments_shows_the_danger_before_it_is_saved(cellar, count, size):
    """The words that may save a hand must be read before the fact is written; then it can be written."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("f")
        await pilot.pause()
        await filled(pilot, ["12 x 330ml beer crown-cap", "", "", "", "st"])
        assert "glass bursts and cuts" in " ".join(whole(app).split())
        assert "!! DANGER bottle" in shown(app, "#form-told")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert recorded(cellar, count) == []
        assert "ctrl+s once more" in shown(app, "#form-says")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert isinstance(app.screen, RoundScreen)

    played(app, play, size)
    (event,) = recorded(cellar, count)
    (lot,) = event.lots
    assert (event.kind, lot.count, lot.size_ml, lot.bottle, lot.closure) == ("bottled", 12, 330, "beer", "crown-cap")
    assert event.priming is None


def test_the_warning_comes_also_when_the_keys_are_quicker_than_the_rules(cellar, count):
    """ctrl+s at once after the last letter must not slip past."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("x")
        await pilot.pause()
        await pilot.press("shift+tab", "s", "ctrl+s")
        await pilot.pause()
        assert isinstance(app.screen, FormScreen)
        assert "DANGER sealed-while-alive" in shown(app, "#form-told")
        assert "ctrl+s once more" in shown(app, "#form-says")
        # Another closure is another fact: the warning read was not about that one.
        await pilot.press("t", "ctrl+s")
        await pilot.pause()
        assert recorded(cellar, count) == []
        await pilot.press("ctrl+s")
        await pilot.pause()

    played(app, play)
    (event,) = recorded(cellar, count)
    assert (event.kind, event.closure) == ("closed", "tight-cap")


@pytest.mark.parametrize("size", SIZES)
def test_bottling_several_lots_with_priming_records_each(tmp_path, size):
    """Line by line: what each bottle can bear differs."""
    cellar = made(tmp_path / "cellar", batch("rest-1", 200, RESTING))
    count = len(recorded(cellar, 0))
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("f")
        await pilot.pause()
        lots = ["5 x 750ml sparkling cork", "2 x 12 US fl oz beer crown-cap", "", ""]
        await filled(pilot, [*lots, "s", "6", "30 g"])
        await pilot.press("ctrl+s", "ctrl+s")
        await pilot.pause()

    played(app, play, size)
    (event,) = recorded(cellar, count)
    assert [(lot.count, lot.size_ml, lot.bottle, lot.rating_bar) for lot in event.lots] == [
        (5, 750, "sparkling", 6),
        (2, 354.9, "beer", 6),
    ]
    assert (event.priming.what, event.priming.g) == ("sucrose", 30)


@pytest.mark.parametrize("size", SIZES)
def test_a_closure_is_written_down_with_its_liquid_and_its_time(cellar, count, size):
    """What stands in the lock, and since when, are what the rules ask later."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("x")
        await pilot.pause()
        assert app.focused is not None and app.focused.id == "form-liquid"
        await filled(pilot, ["water", "", "yesterday 20:00", "boiled first"])
        assert "airlock (vented)" in shown(app, "#form-told")
        await pilot.press("ctrl+s")
        await pilot.pause()

    played(app, play, size)
    (event,) = recorded(cellar, count)
    assert (event.kind, event.closure, event.liquid, event.note) == ("closed", "airlock", "water", "boiled first")
    assert event.at.isoformat() == "2026-05-13T20:00:00+02:00"


def test_a_fault_stands_beside_its_field_and_stops_the_saving(cellar, count):
    """One clear line, where the finger is; nothing typed is lost."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("i")
        await pilot.pause()
        await filled(pilot, ["honey", "", "5", "", "", "tomorrow"])
        lines = shown(app, "#form-rows") or whole(app)
        rows = [row for row in whole(app).splitlines() if row.startswith("!")]
        assert [row[1:7] for row in rows] == ["amount", "when  "], lines
        assert "5: of what unit?" in rows[0]
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "not saved: amount" in shown(app, "#form-says")
        assert app.focused is not None and app.focused.id == "form-amount"

    played(app, play)
    assert recorded(cellar, count) == []


@pytest.mark.parametrize("key", ["y", "i", "f", "x"])
def test_saving_an_empty_form_says_what_is_wanted(cellar, count, key):
    """No event without its fact."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press(key)
        await pilot.pause()
        await pilot.press("ctrl+l", "ctrl+s")
        await pilot.pause()
        assert "not saved" in shown(app, "#form-says")

    played(app, play)
    assert recorded(cellar, count) == []


def test_what_was_typed_and_left_is_there_again(cellar, count):
    """esc is no waste-paper basket; a form that was only looked at is forgotten."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("i")
        await pilot.pause()
        await typed(pilot, "oak chips")
        await pilot.press("escape")
        await pilot.pause()
        assert "is there when you open it again" in shown(app, "#says")
        await pilot.press("m")
        await pilot.pause()
        await pilot.press("escape", "i")
        await pilot.pause()
        assert "oak chips" in whole(app)

    played(app, play)
    assert recorded(cellar, count) == []


def test_a_form_whose_saving_fails_stays_with_all_that_is_in_it(cellar, count, monkeypatch):
    """A full disk must not cost the typing."""
    app = opened(cellar)

    async def play(pilot):
        def full(*events):
            raise OSError("no space left")

        monkeypatch.setattr(app.screen.look.source, "append", full)
        await pilot.press("i")
        await pilot.pause()
        await filled(pilot, ["oak", "", "8 g"])
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "not saved: no space left" in shown(app, "#form-says")
        assert isinstance(app.screen, FormScreen) and "8 g" in whole(app)

    played(app, play)
    assert recorded(cellar, count) == []


def test_looking_back_opens_no_form(cellar):
    """A past cellar is read-only: that is said before anything is typed."""
    app = opened(cellar, now=ago(1))

    async def play(pilot):
        await pilot.press("y")
        await pilot.pause()
        assert isinstance(app.screen, RoundScreen)
        assert "read-only" in shown(app, "#says")

    played(app, play)


@pytest.mark.parametrize("size", [(80, 24), (60, 24)])
def test_every_form_fits_the_smallest_terminal_in_ascii(tmp_path, monkeypatch, size):
    """No field below the edge, no letter that a bare console lacks, no fault cut off."""
    monkeypatch.setenv("MUSTWATCH_ASCII", "1")
    app = opened(made(tmp_path / "cellar", [*usual(), draft("moved", ago(1), "quiet-1", place="cellar")]))

    async def play(pilot):
        for key in ("y", "i", "m", "f", "x"):
            await pilot.press(key)
            await pilot.pause()
            text = whole(app)
            assert text.isascii()
            form = app.screen.deed
            assert all((field.label or field.name) in text for field in form.fields)
            assert "note" in text and "ctrl+s save" in text
            for pane in app.screen.query("#form-told, #form-cautions").results(Pane):
                assert all(sum(len(part) for part, _ in line) <= size[0] for line in pane.lines)
            assert app.screen.query_one("#form-told").size.height >= 3
            await pilot.press("escape")
            await pilot.pause()

    played(app, play, size)


@pytest.mark.parametrize("size", [(60, 20), (40, 15)])
@pytest.mark.parametrize("key", ["f", "m"])
def test_a_form_is_filled_in_on_a_small_terminal(cellar, size, key):
    """The field with the cursor, a caution, the way out and the way to all keys are in sight; the rest is paged to."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press(key)
        await pilot.pause(0.3)
        assert "!! " in whole(app)
        for _ in range(len(app.screen.deed.fields) - 1):
            await pilot.press("tab")
            await pilot.pause()
            assert app.focused.region.bottom < size[1] - 3 and app.focused.region.height == 1
        assert "esc leave" in whole(app) and "F1 keys" in whole(app) and "ctrl+s save" in whole(app)
        await typed(pilot, "zz")
        await pilot.pause()
        assert "zz" in whole(app)

    played(app, play, size)


def test_the_page_of_keys_opens_from_a_form_and_leads_back_to_it(cellar):
    """F1 while typing is promised everywhere; what was typed stays."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("i")
        await typed(pilot, "nutrient")
        await pilot.press("f1")
        await pilot.pause()
        assert "In the list" in whole(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, FormScreen)
        assert app.focused.value == "nutrient"

    played(app, play)


def test_a_seal_is_warned_of_before_the_vessel_is_carried(cellar):
    """Where there is room for one caution only, it is the one about bursting glass."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("m")
        for _ in range(3):
            await pilot.press("tab")
        await pilot.press("s")
        await pilot.pause(0.4)
        assert "!! Sealed: no gas gets out" in whole(app)

    played(app, play, (40, 15))
