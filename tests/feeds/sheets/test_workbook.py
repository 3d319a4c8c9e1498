"""Workbooks: only what is one is read, and only where the extra is installed."""

import builtins
import io
import zipfile
from pathlib import Path

import pytest

from mustwatch.feeds.sheets import workbook

MADE = Path(__file__).parent / "made"


def zipped(*names: str) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name in names:
            archive.writestr(name, "x")
    return packed.getvalue()


def test_a_workbook_is_told_by_its_content():
    """The name of a file says little."""
    assert workbook.kind_of((MADE / "de.xlsx").read_bytes()) == "xlsx"
    assert workbook.kind_of((MADE / "de.ods").read_bytes()) == "ods"
    assert workbook.kind_of(b"Date,SG\n") is None


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "old binary"),
        (zipped("a.txt"), "no workbook"),
        (zipped("a.txt")[:40], "damaged"),
    ],
    ids=["old", "other", "cut"],  # a zip holds the time it was made at
)
def test_what_is_no_workbook_is_refused(data, why):
    """With what to do instead."""
    with pytest.raises(ValueError, match=why):
        workbook.kind_of(data)


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_a_damaged_workbook_is_one_line(kind):
    """Whatever its reader makes of it."""
    pytest.importorskip({"xlsx": "openpyxl", "ods": "odfdo"}[kind])
    name = {"xlsx": "xl/workbook.xml", "ods": "content.xml"}[kind]
    with pytest.raises(ValueError, match="cannot be read|damaged"):
        workbook.sheets_of(zipped(name), kind)


@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_without_the_extra_it_says_how_to_get_it(kind, monkeypatch):
    """A cellar without extras installs nothing; the command that needs one names it."""
    real = builtins.__import__

    def none_of_these(name, *rest, **more):
        if name.split(".")[0] in ("openpyxl", "odfdo"):
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", none_of_these)
    with pytest.raises(workbook.Missing, match=r"mustwatch\[sheets\]"):
        workbook.sheets_of((MADE / f"de.{kind}").read_bytes(), kind)
