"""What was typed and not saved is kept, whole, for its owner alone."""

from pathlib import Path

from mustwatch.screens.unsent import keep, load


def test_it_comes_back_for_its_own_cellar_only(tmp_path):
    """Two cellars, two sets of entries."""
    path = tmp_path / "state" / "unsent.json"
    keep(path, Path("/a"), {"fir": {"gravity": "1.0"}})
    keep(path, Path("/b"), {"oak": {"note": "x"}})
    assert load(path, Path("/a")) == {"fir": {"gravity": "1.0"}}
    assert path.stat().st_mode & 0o777 == 0o600
    keep(path, Path("/a"), {})
    assert load(path, Path("/a")) == {}
    assert load(path, Path("/b")) == {"oak": {"note": "x"}}


def test_a_damaged_file_gives_nothing_and_stops_nothing(tmp_path):
    """Local state is a convenience."""
    path = tmp_path / "unsent.json"
    for text in ("", "[]", "{", '{"/a": 3}', '{"/a": {"fir": {"gravity": 3}}}', "[" * 100000):
        path.write_text(text)
        assert load(path, Path("/a")) == {}


def test_nothing_typed_writes_nothing(tmp_path):
    """An untouched round leaves no file."""
    keep(tmp_path / "unsent.json", Path("/a"), {})
    assert not (tmp_path / "unsent.json").exists()
