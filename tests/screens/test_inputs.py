"""A field of words by keyboard: fingers type a whole word, or its letter again and again."""

import asyncio

import pytest
from textual.app import App

from mustwatch.screens.inputs import Choice

CLOSURES = ("airlock", "blow-off", "cloth", "solid-bung", "cork", "crown-cap", "swing-top", "keg")


@pytest.mark.parametrize(
    ("keys", "word"),
    [
        ("airlock", "airlock"),
        ("crown-cap", "crown-cap"),
        ("cork", "cork"),
        ("c", "cloth"),
        ("cc", "cork"),
        ("cccc", "cloth"),
        ("bk", "keg"),
        ("swz", "swing-top"),
        ("Keg", "keg"),
    ],
)
def test_letters_pick_a_word(keys, word):
    """No letter in the middle of a word picks another: `airlock` must never end as a sealed keg."""
    chosen = []

    class Fields(App):
        def compose(self):
            yield Choice(CLOSURES)

    async def play():
        app = Fields()
        async with app.run_test() as pilot:
            app.query_one(Choice).focus()
            await pilot.press(*("minus" if key == "-" else key for key in keys))
            chosen.append(app.query_one(Choice).value)

    asyncio.run(play())
    assert chosen == [word]
