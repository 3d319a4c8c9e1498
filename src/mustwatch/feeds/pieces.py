"""The bytes of a file of others, read in pieces: what is no text of rows is refused before it fills the memory."""

from __future__ import annotations

from typing import BinaryIO

PIECE = 1 << 20
LARGEST_FILE = 1 << 30
LONGEST_LINE = 4 << 20  # an event may be 1 MiB long as it is written here; the rest is room for white space
MOST_BLANK = 4 << 20  # so much is allowed before it is weighed
BLANK_SHARE = 10  # blank bytes to each other one
BLANK = b" \t\r\n"
PACKED = b"PK\x03\x04"  # a workbook has no lines


def bytes_of(file: BinaryIO) -> bytes:
    """All bytes of a file. Raises ValueError with one line for one that is no text of rows, OSError."""
    data, told, line_from, blank = bytearray(), 0, 0, 0
    while piece := file.read(PIECE):
        data += piece
        if len(data) > LARGEST_FILE:
            raise ValueError("it is larger than 1 GiB; bring it in in parts")
        if data.startswith(PACKED):
            continue
        told += len(piece.translate(None, BLANK))
        blank = len(data) - told
        if blank > MOST_BLANK and blank > BLANK_SHARE * told:
            raise ValueError(f"of its first {len(data) >> 20} MiB nearly all are blank; take the empty lines out")
        line_from = max(line_from, data.rfind(b"\n", len(data) - len(piece)) + 1)
        if len(data) - line_from > LONGEST_LINE:
            number = data.count(b"\n", 0, line_from) + 1
            raise ValueError(f"line {number} is longer than {LONGEST_LINE >> 20} MiB, and no row or event is")
    return bytes(data)
