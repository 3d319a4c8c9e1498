"""The checksum of a line."""

from zlib import crc32

from hypothesis import given
from hypothesis import strategies as st

from mustwatch.ledger.crc import content, right, sealed


def test_the_checksum_is_the_one_everybody_knows():
    """CRC-32 of "123456789" is cbf43926: the check value in the catalogue of parametrised CRC algorithms."""
    assert crc32(b"123456789") == 0xCBF43926
    assert sealed(b"123456789}") == b'123456789,"crc":"cbf43926"}'


@given(st.dictionaries(st.text(max_size=5), st.text(max_size=20), max_size=4), st.data())
def test_any_single_bit_is_seen(keys, data):
    """CRC-32 finds every single-bit error before its mark."""
    import json

    line = sealed(json.dumps({"v": 1, **keys}).encode())
    assert right(line)
    at = data.draw(st.integers(0, len(line) - 20))
    bit = data.draw(st.integers(0, 7))
    assert right(line[:at] + bytes([line[at] ^ 1 << bit]) + line[at + 1 :]) is False


def test_none_and_spaced_and_upper_case_sums_are_understood():
    """Other programs may write it their own way."""
    assert right(b'{"v":1}') is None
    line = sealed(b'{"v":1}')
    assert line == b'{"v":1,"crc":"6acc9348"}'
    assert right(b'{"v":1, "crc" : "6acc9348" }') and right(b'{"v":1,"crc":"6ACC9348"}')


def test_the_content_of_a_line_leaves_out_number_and_sum_alone():
    """A number inside a note is not the number of the line."""
    note = b'"note":"x\\",\\"seq\\":7,\\"at\\""'
    one = b'{"v":1,"id":"a","seq":7,"at":"t","kind":"noted",' + note + b"}"
    two = one.replace(b'"seq":7,"at":"t"', b'"seq":9,"at":"t"', 1)
    assert content(sealed(one)) == content(two) == b'{"v":1,"id":"a","at":"t","kind":"noted",' + note
