"""Delimited text as rows: which encoding, and what parts the fields."""

from __future__ import annotations

import codecs
import csv
import re
from collections.abc import Mapping, Sequence
from io import StringIO
from itertools import islice

from mustwatch.feeds.sheets.grid import Row, Sheet
from mustwatch.feeds.sheets.headings import HEADER_WITHIN, recognised

SEPARATORS = ("\t", ";", ",", "|")
TOLD = re.compile(r"sep=([^\r\n])[ \t]*(?:\r?\n|\r)?", re.IGNORECASE)
WORDS = {"\t": "tabs", ";": "semicolons", ",": "commas", "|": "bars", " ": "blanks"}
MARKS = ((codecs.BOM_UTF8, "utf-8"), (codecs.BOM_UTF16_LE, "utf-16-le"), (codecs.BOM_UTF16_BE, "utf-16-be"))
NO_SEPARATOR = re.compile(r"[\w\s\"'().°%/#+-]")


def decoded(data: bytes, encoding: str | None = None) -> tuple[str, str]:
    """(text, its encoding in words) of a file: UTF-8, UTF-16 or Windows-1252. Raises ValueError."""
    if encoding:
        return _as_told(data, encoding), encoding
    for mark, name in MARKS:
        if data.startswith(mark):
            return _strict(data[len(mark) :], name), name.upper().removesuffix("-LE").removesuffix("-BE")
    zeros = [data[:4096][place::2].count(0) for place in (0, 1)]
    if any(zeros) and max(zeros) > len(data[:4096]) / 4 and not min(zeros):
        return _strict(data, "utf-16-le" if zeros[1] else "utf-16-be"), "UTF-16"
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as why:
        try:
            return data.decode("windows-1252"), "Windows-1252"
        except UnicodeDecodeError:
            raise ValueError(
                f"neither UTF-8 nor Windows-1252 text (byte {why.start}); save it as UTF-8, or name its --encoding"
            ) from None
    if "\0" in text:
        raise ValueError("it holds zero bytes and is no text; save it as CSV in UTF-8")
    return text, "UTF-8"


def _strict(data: bytes, name: str) -> str:
    try:
        return data.decode(name)
    except UnicodeDecodeError as why:
        raise ValueError(f"not sound {name[:6].upper()} text (byte {why.start}); save it as UTF-8") from None


def _as_told(data: bytes, encoding: str) -> str:
    try:
        return data.decode("utf-8-sig" if encoding.lower() in ("utf-8", "utf8") else encoding)
    except LookupError:
        raise ValueError(f"--encoding {encoding!r} is not known; such as utf-8, utf-16, windows-1252") from None
    except UnicodeDecodeError as why:
        raise ValueError(f"not {encoding} text (byte {why.start})") from None


def sheet_of(text: str, names: Mapping[str, str], told: Sequence[str] = (), separator: str | None = None) -> Sheet:
    """The rows of delimited text; a line that is no such text is a row with the reason."""
    text = text.removeprefix("\ufeff")
    said = TOLD.match(text)
    if said:
        # A spreadsheet's word on what parts the fields; the line stays, so that rows keep their numbers.
        text = text[said.end() - 1 :] if said[0].endswith("\n") else text[said.end() :]
    sign = separator or (said[1] if said else _separator(text, names))
    reader = csv.reader(StringIO(text, newline=""), delimiter=sign, strict=True)
    rows: list[Row] = []
    try:
        rows.extend(Row(reader.line_num, tuple(cells)) for cells in reader)
    except csv.Error as why:
        rows.append(Row(reader.line_num, (), f"not CSV: {why}"))
    return Sheet(tuple(rows), None, (*told, f"fields parted by {WORDS.get(sign, sign)}"), sign == ",")


def _separator(text: str, names: Mapping[str, str]) -> str:
    """What parts the fields: the sign under which a row names the most columns, the commonest of equals."""
    head = list(islice(StringIO(text, newline=""), HEADER_WITHIN))
    others = sorted({sign for line in head for sign in line if not NO_SEPARATOR.match(sign)} - set(SEPARATORS) - {" "})
    best, most = "", (0, 0)
    for sign in (*SEPARATORS, *others[:8], " "):
        worth = _worth(head, sign, names)
        if worth > most:
            best, most = sign, worth
    first = next((line for line in head if line.strip()), "")
    return best if most[0] > 0 else max(SEPARATORS[::-1], key=first.count)


def _worth(head: Sequence[str], sign: str, names: Mapping[str, str]) -> tuple[int, int]:
    try:
        rows = list(csv.reader(head, delimiter=sign))
    except csv.Error:
        return 0, 0
    known = max((recognised(cells, names) for cells in rows), default=0)
    return known, sum(len(cells) > 1 for cells in rows)
