"""What was typed and not saved is kept, whole, for its owner alone."""

from pathlib import Path

from mustwatch.screens.unsent import Unsent


def test_it_comes_back_for_its_own_cellar_only(tmp_path):
    """Two cellars, two sets of entries."""
    path = tmp_path / "state" / "unsent.json"
    first, second = Unsent(Path("/a"), path), Unsent(Path("/b"), path)
    first.drafts["fir"] = {"gravity": "1.0"}
    second.drafts["oak"] = {"note": "x"}
    assert (first.keep(), second.keep()) == ("", "")
    assert Unsent(Path("/a"), path).drafts == {"fir": {"gravity": "1.0"}}
    assert path.stat().st_mode & 0o777 == 0o600
    first.drafts.clear()
    first.keep()
    assert Unsent(Path("/a"), path).drafts == {}
    assert Unsent(Path("/b"), path).drafts == {"oak": {"note": "x"}}


def test_a_damaged_file_gives_nothing_and_stops_nothing(tmp_path):
    """Local state is a convenience."""
    path = tmp_path / "unsent.json"
    for text in ("", "[]", "{", '{"/a": 3}', '{"/a": {"fir": {"gravity": 3}}}', "[" * 100000):
        path.write_text(text)
        assert Unsent(Path("/a"), path).drafts == {}


def test_nothing_typed_writes_nothing(tmp_path):
    """An untouched round leaves no file."""
    assert Unsent(Path("/a"), tmp_path / "unsent.json").keep() == ""
    assert not (tmp_path / "unsent.json").exists()


def test_a_place_that_cannot_be_written_to_is_told_and_stops_nothing(tmp_path):
    """A full disk must not end the round, nor lose what is typed without a word."""
    (tmp_path / "file").write_text("")
    unsent = Unsent(Path("/a"), tmp_path / "file" / "unsent.json")
    unsent.drafts["fir"] = {"note": "x"}
    assert unsent.keep() == "what is typed could not be kept for the next start: File exists"
