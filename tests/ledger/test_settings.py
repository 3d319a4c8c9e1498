"""Settings: every fault is one line that names the key."""

from __future__ import annotations

import pytest

from mustwatch.ledger.settings import DEFAULT_TEXT, Settings, settings_from


def test_the_text_a_new_cellar_starts_with_is_all_defaults() -> None:
    """Also when every commented line is switched on, it must be right."""
    assert settings_from(DEFAULT_TEXT) == Settings()
    lines = [line.removeprefix("# ") if "=" in line or "[" in line else line for line in DEFAULT_TEXT.splitlines()]
    full = settings_from("\n".join(lines))
    assert (full.gallon, full.hydrometer_c, full.places) == ("us", 20, {"cellar": 12})


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("[cellar", "not TOML"),
        ("[cellar]\ngallon = 'metric'", "cellar.gallon"),
        ("[cellar]\nhydrometer_c = 18", "cellar.hydrometer_c"),
        ("[cellar]\nhydrometer_c = true", "cellar.hydrometer_c"),
        ("[cellar]\npinned = 2026-05-14T09:00:00", "offset"),
        ("[cellar]\ncolour = 'red'", "cellar.colour"),
        ("[cellars]", "cellars"),
        ("cellar = 3", "cellar"),
        ("[places.hall]\nm3 = -2", "places.hall"),
        ("[places]\nhall = 3", "places.hall"),
        ("[thresholds.stalled]\npoints = 'ten'", "thresholds.stalled.points"),
        ("thresholds.stalled = 4", "thresholds.stalled"),
        ("[library.yeasts.ale]\ntolerance_high_abv = 40", "library.yeasts: .*8 to 25"),
        ("[library.ingredients.odd]\ncategory = 'metal'", "library.ingredients: .*must be one of"),
        ("[library.hops]", "library.hops"),
        ("[library.yeasts]\nale = 3", "library.yeasts: .*must be a table"),
        ("name = " + "[" * 100_000, "nested too deeply"),
        ("name" + ".a" * 100_000 + " = 1", "nested too deeply"),
        ("name = " + "9" * 5_000, "not TOML"),
        ("[cellar]\nhydrometer_c = " + "9" * 400, "larger than any"),
        ("<<<<<<< HEAD\n[cellar]\n=======\n[cellar]\n>>>>>>> theirs\n", "not TOML"),
    ],
)
def test_a_fault_is_one_line_naming_the_key(text: str, names: str) -> None:
    """The user mends it in an editor: the line must say where."""
    with pytest.raises(ValueError, match=names) as refusal:
        settings_from(text)
    assert "\n" not in str(refusal.value).strip() and "cellar.toml" in str(refusal.value)
