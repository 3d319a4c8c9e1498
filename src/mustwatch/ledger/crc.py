"""The checksum at the end of a line: CRC-32 of the bytes before `,"crc"`, eight hex digits."""

import re
from zlib import crc32

MARK = b',"crc":"'
LOOSE = re.compile(rb',\s*"crc"\s*:\s*"([0-9A-Fa-f]{8})"\s*\}\s*\Z')

# In the place the format gives it, between id and at: nothing inside a string can look like this.
NUMBER = re.compile(rb'(?<=")\s*,\s*"seq"\s*:\s*\d{1,15}(?=\s*,\s*"at")')


def sealed(body: bytes) -> bytes:
    """The line of a JSON object: its checksum added as the last key.

    >>> sealed(b'{"v":1}')
    b'{"v":1,"crc":"6acc9348"}'
    """
    return b'%b,"crc":"%08x"}' % (body[:-1], crc32(body[:-1]))


def resealed(line: bytes) -> bytes:
    """The same line with the checksum of its own bytes, where it has one at its end."""
    return sealed(line[:-18] + b"}") if line[-18:-10] == MARK else line


def right(line: bytes) -> bool | None:
    """Whether the checksum of a line is right; None where it has none."""
    if line[-18:-10] == MARK:
        return line[-10:-2].lower() == b"%08x" % crc32(line[:-18])
    found = LOOSE.search(line[-120:])
    if found is None:
        return None
    body = line[: len(line) - len(found[0])]
    return int(found[1], 16) == crc32(body)


def content(line: bytes) -> bytes:
    """What a line says, apart from its number and checksum: two copies of one event are compared by this.

    >>> content(b'{"v":1,"id":"a","seq":7,"at":"t","crc":"00000000"}')
    b'{"v":1,"id":"a","at":"t"'
    """
    if line[-18:-10] == MARK:
        body = line[:-18]
    else:
        found = LOOSE.search(line[-120:])
        body = line[: len(line) - len(found[0])] if found else line.rstrip()[:-1].rstrip()
    return NUMBER.sub(b"", body, count=1)
