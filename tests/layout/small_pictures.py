"""Small pictures, and files that only say they are some."""

import struct
import zlib

SIGN = b"\x89PNG\r\n\x1a\n"


def chunk(name, content):
    """A chunk of a PNG file with its checksum."""
    return (
        struct.pack(">I", len(content))
        + name
        + content
        + struct.pack(">I", zlib.crc32(name + content))
    )


def png(wide=3, high=2, rows=None, packed=None, head=(8, 2, 0, 0, 0), more=b""):
    """A small PNG in colour, or one that says other things of itself."""
    rows = high * (b"\x00" + 3 * wide * b"\x7f") if rows is None else rows
    packed = zlib.compress(rows) if packed is None else packed
    first = chunk(b"IHDR", struct.pack(">II5B", wide, high, *head))
    return SIGN + first + more + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


def segment(marker, content):
    """A segment of a JPEG file."""
    return bytes((0xFF, marker)) + struct.pack(">H", len(content) + 2) + content


def jpeg(wide=3, high=2, colours=3, frame=0xC0, depth=8, scan=b"\x12\xff\x00\x34", end=b"\xff\xd9"):
    """What encloses a JPEG picture; the coded rows are none."""
    size = struct.pack(">BHHB", depth, high, wide, colours) + 3 * colours * b"\x01"
    return (
        b"\xff\xd8"
        + segment(0xE0, b"JFIF\x00")
        + segment(frame, size)
        + segment(0xDA, b"\x01\x01\x00\x00\x3f\x00")
        + scan
        + end
    )
