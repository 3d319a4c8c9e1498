"""Everything can be written down in the round: acts without a key of their own by `w`."""

from __future__ import annotations

from screens.small_cellar import made, opened, played, recorded, shown, typed, usual

from mustwatch.deeds.catalogue import DEEDS
from mustwatch.screens.forms.screen import FormScreen
from mustwatch.screens.round.keys import LIST_KEYS
from mustwatch.screens.round.opener import ACTS


def test_every_act_has_a_key_or_a_letter():
    """Nothing only in the shell. Notes and hushes have keys; what is done with the hands has its own letters."""
    by_key = {act.split()[-1] for _, act, _, _ in LIST_KEYS} | {"hush"}
    for name, words in DEEDS.items():
        assert name in {act for _, act in ACTS} or name in by_key or not words, name
    assert len({letter for letter, _ in ACTS}) == len(ACTS)


def test_an_act_with_a_key_has_the_same_letter_in_both_places():
    """One name a thing."""
    keys = {act.removeprefix("form "): key for key, act, _, _ in LIST_KEYS if act.startswith("form ")}
    for letter, name in ACTS:
        assert keys.get(name, letter) == letter


def test_a_first_batch_is_mixed_by_keys_alone(tmp_path):
    """An empty cellar says how; afterwards the cursor stands on the new batch."""
    cellar = made(tmp_path / "cellar", [])
    app = opened(cellar)

    async def play(pilot):
        assert "w, then b" in shown(app, "#batches")
        await pilot.press("w")
        await pilot.pause()
        await pilot.press("b")
        await pilot.pause()
        assert isinstance(app.screen, FormScreen)
        rows = [row.field.name for row in app.screen.query("Row")]
        await typed(pilot, "lime-1")
        for _ in range(rows.index("honey") - rows.index("tag")):
            await pilot.press("tab")
        await typed(pilot, "1.3 kg lime")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "saved" in shown(app, "#says")
        assert shown(app, "#batches").splitlines()[1].startswith(">") and "lime-1" in shown(app, "#batches")

    played(app, play)
    (event,) = recorded(cellar, 0)
    assert (event.kind, event.batch, event.ingredients[0].kg) == ("mixed", "lime-1", 1.3)


def test_a_tasting_and_an_end_are_written_down(tmp_path):
    """By their letters, for the batch chosen."""
    cellar = made(tmp_path / "cellar", usual())
    count = len(recorded(cellar, 0))
    app = opened(cellar)

    async def play(pilot):
        tag = app.screen.shown.tag
        await pilot.press("w")
        await pilot.pause()
        await pilot.press("t")
        await pilot.pause()
        await typed(pilot, "hazy")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert f"saved {tag}" in shown(app, "#says")

    played(app, play)
    assert [event.kind for event in recorded(cellar, count)] == ["tasted"]


def test_what_a_single_key_wrote_says_how_it_is_taken_back(tmp_path):
    """A key may be struck by chance."""
    cellar = made(tmp_path / "cellar", usual())
    app = opened(cellar)

    async def play(pilot):
        for key in "spabt":
            await pilot.press(key)
            await pilot.pause()
            assert shown(app, "#says").rstrip().endswith("u takes it back"), key

    played(app, play)
