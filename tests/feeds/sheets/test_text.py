"""Text of any encoding a spreadsheet writes."""

import codecs

import pytest

from mustwatch.feeds.sheets.text import decoded, sheet_of

TEXT = "Datum;Dichte;Notiz\n01.05.2026;1,05;süß – „gut“\n"


@pytest.mark.parametrize(
    ("data", "name"),
    [
        (TEXT.encode(), "UTF-8"),
        (codecs.BOM_UTF8 + TEXT.encode(), "UTF-8"),
        (TEXT.encode("utf-16"), "UTF-16"),
        (codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"), "UTF-16"),
        (TEXT.encode("utf-16-le"), "UTF-16"),
        (TEXT.encode("utf-16-be"), "UTF-16"),
        (TEXT.encode("windows-1252"), "Windows-1252"),
    ],
)
def test_the_encoding_is_found_and_told(data, name):
    """By its mark, by its zeros, by what cannot be UTF-8."""
    assert decoded(data) == (TEXT, name)


@pytest.mark.parametrize("data", [b"\x81\x8d", b"a\0b", codecs.BOM_UTF16_LE + b"a"])
def test_what_is_no_text_is_refused(data):
    """One line, and no guess."""
    with pytest.raises(ValueError, match="UTF|zero"):
        decoded(data)


def test_an_encoding_may_be_told():
    """What Windows-1252 is not."""
    assert decoded("zažít".encode("windows-1250"), "windows-1250")[0] == "zažít"
    with pytest.raises(ValueError, match="not known"):
        decoded(b"a", "no-such")


@pytest.mark.parametrize("sign", [";", ",", "\t", "|", "^", "~", " "])
def test_any_sign_may_part_the_fields(sign):
    """The one under which a row names the most columns."""
    sheet = sheet_of(sign.join(["Date", "SG", "pH"]) + "\n" + sign.join(["2026-05-01", "1.05", "3.5"]) + "\n", {})
    assert sheet.rows[1].cells == ("2026-05-01", "1.05", "3.5")


def test_line_ends_of_old_and_odd_kinds_do_not_shift_the_rows():
    """A line separator inside a field is text."""
    sheet = sheet_of("Date;Note\r2026-05-01;a\u2028b\r", {})
    assert [row.line for row in sheet.rows] == [1, 2] and sheet.rows[1].cells[1] == "a\u2028b"
