"""A cellar is made where nothing else lies, or where that is agreed to."""

import pytest


@pytest.fixture
def full(home):
    """A folder with other things in it."""
    folder = home / "cellar"
    folder.mkdir()
    for name in ("letters", "photos", "tax.ods", "zoo\x1b[2J"):
        (folder / name).write_text("x")
    return folder


def test_a_folder_that_holds_other_things_is_refused_without_a_terminal(run, full):
    """In one line that names some of them and how to force it; nothing is made."""
    ran = run("init")
    assert ran.status == 2 and ran.out == "" and ran.err.count("\n") == 1
    assert "holds other things: letters, photos, tax.ods and 1 more" in ran.err and "--yes" in ran.err
    assert len(list(full.iterdir())) == 4
    assert run("init", "--json").status == 2 and "\x1b" not in run("init").err


@pytest.mark.parametrize(("answer", "status"), [("y", 0), ("n", 2), ("", 2)])
def test_in_a_terminal_it_is_asked(run, full, monkeypatch, answer, status):
    """What is not agreed to is not done."""
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    monkeypatch.setattr("builtins.input", lambda _: answer)
    assert run("init").status == status
    assert (full / "cellar.toml").exists() == (status == 0) and (full / "letters").read_text() == "x"


def test_with_yes_it_is_made_beside_them(run, full):
    """For scripts."""
    assert run("init", "--yes").status == 0 and run("verify").status == 0
    assert (full / "letters").read_text() == "x"


@pytest.mark.parametrize("name", [".git", ".gitattributes", ".stfolder"])
def test_what_git_or_a_sync_put_there_is_no_stranger(run, home, name):
    """A clone of an empty repository, or a shared folder, is meant for it."""
    (home / "cellar").mkdir()
    (home / "cellar" / name).mkdir() if name != ".gitattributes" else (home / "cellar" / name).write_text("")
    assert run("init").status == 0


def test_a_cellar_that_is_there_is_still_never_made_over(run, home):
    """With or without consent."""
    assert run("init").status == 0
    for words in (["init"], ["init", "--yes"]):
        assert run(*words).status == 2 and "cellar already" in run(*words).err
