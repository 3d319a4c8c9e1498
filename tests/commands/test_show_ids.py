"""An entry that is to be corrected must have a name one can see."""

from __future__ import annotations


def test_show_names_entries_so_that_fix_finds_them(fir) -> None:
    """The end of the id beside the entry is what `fix` takes."""
    story = fir("show", "fir", "--ids").out.partition("\nstory")[2]
    line = next(line for line in story.splitlines() if "read 1.092" in line)
    short = line.partition("  read ")[0].split()[-1]
    assert fir("fix", short, "gravity.value=1.094").status == 0
    assert fir("show", "fir", "--json").json["start_sg"] > 1.0935
    assert short not in fir("show", "fir").out
