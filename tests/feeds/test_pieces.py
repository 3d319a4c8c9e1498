"""Files of others that are made to fill the memory: refused while they are read."""

import io
import tracemalloc

import pytest

from mustwatch.feeds.pieces import LONGEST_LINE, bytes_of


class Endless(io.RawIOBase):
    """A file that has given `size` bytes before it ends."""

    def __init__(self, byte: bytes, size: int) -> None:
        super().__init__()
        self.byte, self.left, self.given = byte, size, 0

    def read(self, size: int = -1) -> bytes:
        count = min(size, self.left)
        self.left, self.given = self.left - count, self.given + count
        return self.byte * count


@pytest.mark.parametrize(
    ("byte", "why"),
    [
        (b"x", "line 1 is longer than 4 MiB"),
        (b"\0", "line 1 is longer than 4 MiB"),
        (b"\n", "nearly all are blank"),
        (b" ", "nearly all are blank"),
    ],
    ids=["a line", "zeros", "line feeds", "blanks"],
)
def test_a_gigabyte_of_one_sign_is_refused_from_its_first_pieces(byte, why):
    """In one line, within a few megabytes, whatever its length."""
    file = Endless(byte, 1 << 30)
    tracemalloc.start()
    try:
        with pytest.raises(ValueError, match=why):
            bytes_of(file)
        assert tracemalloc.get_traced_memory()[1] < 32 << 20
    finally:
        tracemalloc.stop()
    assert file.given < 16 << 20


def test_the_long_line_is_named_by_its_number():
    """So that it can be found."""
    with pytest.raises(ValueError, match="line 3 is longer"):
        bytes_of(io.BytesIO(b"a\nb\n" + b"c" * (LONGEST_LINE + (1 << 20)) + b"\nd\n"))


@pytest.mark.parametrize(
    "data",
    [b"", b"\n" * 1000, b"a,b\n" * 500_000, b"x" * (LONGEST_LINE - 10) + b"\ny\n", b"PK\x03\x04" + b"z" * (6 << 20)],
    ids=["empty", "a thousand empty lines", "many rows", "a line as long as may be", "a packed workbook"],
)
def test_what_a_person_may_have_is_read_whole(data):
    """Every byte as it is."""
    assert bytes_of(io.BytesIO(data)) == data
