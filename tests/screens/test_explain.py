"""The pages of rules, of what is normal and of the keys: wrapped to the paper they stand on, and one key away."""

import pytest
from screens.small_cellar import ago, batch, made, opened, played, shown, usual, whole
from screens.text import text_of

from mustwatch.ledger.drafts import draft
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import cells
from mustwatch.rules.catalogue import RULES
from mustwatch.rules.normal import NORMAL_PAGES
from mustwatch.rules.worked import WORKED_PAGES
from mustwatch.screens.explain import plain_lines, rule_lines
from mustwatch.screens.help import keys_lines
from mustwatch.screens.paper import Paper

NARROW_SIZES = ((80, 24), (60, 24))
FERMENTING = [1.100, 1.085, 1.070, 1.055]


def widest(lines) -> int:
    """Cells of the widest line."""
    return max(sum(cells(text) for text, _ in line) for line in lines)


@pytest.mark.parametrize("size", NARROW_SIZES)
def test_no_line_of_a_rules_page_is_wider_than_its_pane(tmp_path, size):
    """The last letters of every line were cut off: a caution must be readable whole."""
    app = opened(made(tmp_path / "cellar", usual()))

    async def play(pilot):
        await pilot.press("e")
        await pilot.pause()
        if not isinstance(app.screen, Paper):
            await pilot.press("1")
            await pilot.pause()
        paper = app.screen.query_one("#paper")
        assert paper.size.width == size[0] - 4
        assert size[0] - 24 < widest(paper.lines) <= paper.size.width
        assert text_of(paper.lines).startswith("sealed-while-alive")
        await pilot.press("escape", "question_mark")
        await pilot.pause()
        keys = app.screen.query_one("#paper")
        assert widest(keys.lines) <= keys.size.width
        assert "In the list" in whole(app)

    played(app, play, size)


@pytest.mark.parametrize("width", [76, 56])
def test_every_page_keeps_to_its_width(width):
    """All rules, all normal pages, all keys; nothing is lost in the wrapping."""
    for module in RULES:
        assert widest(rule_lines(module.RULE.name, Settings(), width)) <= width, module.RULE.name
    for name, page in (NORMAL_PAGES | WORKED_PAGES).items():
        lines = plain_lines(name, width)
        assert widest(lines) <= width, name
        assert text_of(lines).split() == page.split()
    assert widest(keys_lines(width)) <= width


def test_a_page_is_wrapped_anew_when_the_window_changes(tmp_path):
    """A narrower window must not cut what stood there."""
    app = opened(made(tmp_path / "cellar", usual()))

    async def play(pilot):
        await pilot.press("question_mark")
        await pilot.pause()
        await pilot.resize_terminal(60, 24)
        await pilot.pause()
        paper = app.screen.query_one("#paper")
        assert widest(paper.lines) <= paper.size.width == 56

    played(app, play, (120, 36))


def test_what_is_normal_is_named_under_the_standing_and_opens_like_a_rule(tmp_path):
    """Rafts and a still airlock worry people; the answer is one key away, also where nothing was found."""
    events = batch("quiet-1", 9, FERMENTING)
    events.append(draft("seen", ago(0.2), "quiet-1", surface="rafts", airlock="still"))
    app = opened(made(tmp_path / "cellar", events))

    async def play(pilot):
        assert app.screen.look.found("quiet-1") == ()
        assert "normal, and why: rafts, still-airlock (e)" in " ".join(shown(app, "#detail").split())
        await pilot.press("e")
        await pilot.pause()
        assert "1  normal, and why: rafts" in whole(app)
        await pilot.press("1")
        await pilot.pause()
        assert "Rafts: pale islands" in whole(app) and "When it is not" in whole(app)

    played(app, play)


def test_what_is_normal_stands_beside_the_rules_of_the_findings(tmp_path):
    """A danger is still explained first."""
    events = [*usual(), draft("seen", ago(0.2), "sealed-1", surface="ring")]
    app = opened(made(tmp_path / "cellar", events))

    async def play(pilot):
        await pilot.press("e")
        await pilot.pause()
        text = whole(app)
        assert text.index("danger  sealed-while-alive") < text.index("normal, and why: ring")

    played(app, play)
