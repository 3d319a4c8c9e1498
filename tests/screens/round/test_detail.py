"""The pane of one batch: its forecasts are made beside the keys, and one after the other."""

import threading

from screens.small_cellar import here, made, opened, played, usual

from mustwatch.screens.look import Look


def test_forecasts_are_made_one_at_a_time_and_the_last_batch_shown_gets_its_own(tmp_path, monkeypatch):
    """A thread cannot be called back: ten batches walked past would each take its share of what keys need."""
    under_way, most, made_for, go = [], [], [], threading.Event()

    def slow(self, batch):
        under_way.append(batch.tag)
        most.append(len(under_way))
        go.wait(20)
        made_for.append(under_way.pop())

    monkeypatch.setattr(Look, "make_outlook", slow)
    app = opened(made(tmp_path / "cellar", usual()))

    async def play(pilot):
        for _ in range(2):
            await pilot.press("down")
            await pilot.pause(0.05)
        last = here(app)
        go.set()
        for _ in range(100):
            await pilot.pause(0.02)
            if last in made_for:
                break
        assert last in made_for and max(most) == 1 and len(made_for) == 2

    played(app, play)
